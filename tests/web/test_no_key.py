"""What a student is sent while a lab is open holds no answer to it, no tolerance, no seed and no truth."""

import json
import re

import pytest

from app.domain.marking import right_answer_text
from app.domain.tasks import NumberTask
from app.services import bench
from app.services.labs import Lab
from app.store import attempts
from tests import factories
from tests.web.conftest import signed_in
from tests.web.given import begin, give

STUDENTS = 5
COMPUTED = {
    "one-plane": ("static-size", "single-mass"),
    "two-plane-balance": ("static-size", "single-mass", "couple-size"),
    "trial-weight": ("effect-size", "mass"),
    "runout-and-match-mounting": ("inboard-total", "inboard-first"),
}
"""Tasks whose answer is computed from what is shown and isn't shown itself."""

INNER_WORDS = re.compile(
    r'(?:"|\bdata-)(?:seed|truth|tolerance|answer_key|key_text|right|expected|wrong_turns?)"?\s*[:=]'
)


@pytest.mark.parametrize("slug", COMPUTED)
def test_no_page_of_an_open_lab_holds_what_its_tasks_ask_for(app, database, class_id, teacher, now, slug):
    """A number may stand on one student's page by chance: an answer that is told stands on everybody's."""
    assignment_id = give(database, class_id=class_id, instructor=teacher, now=now, slug=slug)
    told: dict[str, list[bool]] = {}
    for _ in range(STUDENTS):
        pupil = factories.student(database, class_id=class_id, instructor=teacher)
        lab = begin(database, assignment_id=assignment_id, student=pupil, now=now)
        text = pages_of(signed_in(app, pupil), lab)
        assert_nothing_inner(text, database, lab)
        for task in lab.variant.scenario.tasks:
            if isinstance(task, NumberTask) and task.id in COMPUTED[slug]:
                number = re.escape(right_answer_text(task, lab.variant).split()[0])
                told.setdefault(task.id, []).append(bool(re.search(rf"(?<![\d.]){number}(?![\d.])", text)))
    assert told
    assert [task for task, on_pages in told.items() if all(on_pages)] == []


def test_the_bench_tells_no_truth_before_it_is_looked_for(app, database, class_id, teacher, now):
    assignment_id = give(
        database, class_id=class_id, instructor=teacher, now=now, slug="bench-four-assemblies"
    )
    told: dict[str, list[bool]] = {}
    for _ in range(STUDENTS):
        pupil = factories.student(database, class_id=class_id, instructor=teacher)
        lab = begin(database, assignment_id=assignment_id, student=pupil, now=now)
        client = signed_in(app, pupil)
        action = {"do": "bring", "assembly": "A", "to": "balancer"}
        bench.act(database, attempt_id=lab.attempt_id, student=pupil, action=action, expect=0, now=now)
        text = client.get(f"/labs/attempts/{lab.attempt_id}/bench").text + pages_of(client, lab)
        client.get("/labs")
        sent = client.post(
            f"/labs/attempts/{lab.attempt_id}/bench",
            json={"action": {"do": "clamp", "grip": "firm"}, "expect": 1},
            headers={"X-CSRF-Token": client.csrf_token},
        )
        text += sent.text
        assert_nothing_inner(text, database, lab)
        for plane in ("inboard", "outboard"):
            mass = f"{float(lab.variant.model.value(f'assembly[A].correction.{plane}.mass_g')):.1f}"
            told.setdefault(plane, []).append(mass in text)
    assert [plane for plane, on_pages in told.items() if all(on_pages)] == []


def pages_of(client, lab: Lab) -> str:
    path = f"/labs/attempts/{lab.attempt_id}"
    return "".join(client.get(f"{path}{rest}").text for rest in ("", "/hand-in"))


def assert_nothing_inner(text: str, database, lab: Lab) -> None:
    assert INNER_WORDS.search(text) is None
    assert seed_of(database, lab.attempt_id) not in text
    for block in re.findall(r'<script type="application/json"[^>]*>(.*?)</script>', text, re.DOTALL):
        json.loads(block)
        assert INNER_WORDS.search(block) is None


def seed_of(database, attempt_id: str) -> str:
    with database.read() as session:
        return str(attempts.attempt_named(session, attempt_id).seed)


def test_the_rule_on_inner_words_sees_one():
    assert INNER_WORDS.search('{"seed": 1}')
    assert INNER_WORDS.search('<p data-tolerance="1">')
    assert not INNER_WORDS.search('<p data-answer="a">')
