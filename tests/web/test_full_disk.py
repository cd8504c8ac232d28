"""A disk that fills up in the middle of anything: the page says so, and what was there before is there."""

import pytest

from tests.faults import failing_at
from tests.web.every_form import FilledForm
from tests.web.whole_term import VISITOR, Stage

MOST_WRITES = 60
KEPT_ONE_BY_ONE = {"labs.save_reflection"}
"""Each text of a sheet is kept by itself; sent again, those that are there change nothing."""


def sent_on_a_full_disk(stage: Stage, form: FilledForm, who: str) -> tuple[int, list[str]]:
    """Fail at the first write of what the form does, at the second and so on, until all are done. Returns how
    often it failed, and what was wrong then."""
    before, wrong = stage.version(), []
    for at in range(1, MOST_WRITES):
        with failing_at(stage.database, at) as failing:
            answer = stage.send(form, who)
        if not failing.reached:
            return at - 1, wrong
        told = f"{who}: {form.endpoint} at write {at}"
        if answer.status_code != 503 or "Nothing was saved" not in answer.text:
            wrong.append(f"{told}: {answer.status_code}")
        if stage.version() != before:
            if form.endpoint not in KEPT_ONE_BY_ONE:
                wrong.append(f"{told}: torn")
            stage.restore()
            before = stage.version()
    return at, [*wrong, f"{who}: {form.endpoint} writes more than {MOST_WRITES} times"]


@pytest.mark.slow
@pytest.mark.parametrize("who", [VISITOR, "student", "mate", "teacher"])
def test_a_fault_at_any_write_of_anything_that_is_sent_is_said_and_tears_nothing(stage: Stage, who: str):
    """Every form of every page, as `test_every_form.py` finds them."""
    wrong: list[str] = []
    faults: dict[str, int] = {}
    for form in stage.forms(who):
        failed, found = sent_on_a_full_disk(stage, form, who)
        faults[form.endpoint] = max(failed, faults.get(form.endpoint, 0))
        wrong += found
        stage.restore()
    assert wrong == []
    least = {VISITOR: 2, "student": 12, "mate": 4, "teacher": 50}[who]
    assert sum(each >= 3 for each in faults.values()) >= least  # to begin, to write, to commit
