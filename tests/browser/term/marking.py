"""The instructor's side: answers in words, a regrade, and grades by hand."""

from pathlib import Path

from playwright.sync_api import expect

from app.services import hand_grades, regrading, review
from tests.browser.lab_page import cells
from tests.browser.term.school import Room, School
from tests.browser.term.story import (
    KINDS,
    LABS,
    NEW_VERSION,
    REGRADED,
    WITH_SHEETS,
)
from tests.browser.term.sums import REGRADE
from tests.browser.term.working import TEXT_TASK
from tests.browser.watch import flash_of
from tests.services.new_version import new_version

RUBRIC = ("load", "driver", "watch")
"""A point each, in this order."""
BY_HAND = {
    2: (9.5, "Shown again at the machine", "Steady hands this time."),
    3: (8, "Told me the rule in the shop", ""),
}
"""What the student of the kind "by hand" is given at these labs: points, the reason and a comment."""


def answers_in_words(school: School, room: Room, *, by_pages: bool) -> None:
    """By the rubric: a point for each of its criteria, as many as the story says. by_pages: one of them."""
    waiting = school.ask(
        """SELECT attempt.public_id, person.display_name FROM attempt
           JOIN assignment ON assignment.id = attempt.assignment_id
           JOIN person ON person.id = attempt.person_id
           JOIN mark ON mark.attempt_id = attempt.id
           WHERE assignment.public_id = :lab AND mark.verdict = 'waiting' AND mark.superseded_at IS NULL""",
        lab=room.labs[WITH_SHEETS],
    )
    kinds = {each.name: each.kind for each in room.pupils}
    assert len(waiting) == sum(
        kind.count
        for kind in KINDS.values()
        if any(one.text is not None for one in kind.labs.get(WITH_SHEETS, ()))
    )
    for place, (attempt_id, name) in enumerate(waiting):
        [one] = KINDS[kinds[name]].labs[WITH_SHEETS]
        assert one.text is not None
        points = {criterion: float(number < one.text) for number, criterion in enumerate(RUBRIC)}
        if by_pages and not place:
            page = school.desk
            page.goto(f"/teaching/attempts/{attempt_id}")
            for box, given in zip(
                page.locator("input[name^=criterion-]").all(), points.values(), strict=True
            ):
                box.fill(f"{given:g}")
            page.get_by_role("button", name="Save this mark").click()
            expect(flash_of(page)).to_be_visible()
        else:
            review.mark_text(
                **school.by(), attempt_id=attempt_id, task_id=TEXT_TASK, points=points, comment=""
            )


def grades_by_hand(school: School, room: Room, *, by_pages: bool) -> None:
    [pupil] = room.of_kind("by hand")
    for number, (points, reason, comment) in BY_HAND.items():
        place = {"assignment_id": room.labs[number], "student_id": room.student_id(pupil)}
        if not by_pages:
            hand_grades.set_by_hand(**school.by(), **place, points=points, reason=reason, comment=comment)
            continue
        page = school.desk
        page.goto("/teaching/assignments/{assignment_id}/students/{student_id}".format(**place))
        page.get_by_label("Points set by hand").fill(f"{points:g}")
        with school.windows.watch.refusing(422):
            page.get_by_role("button", name="Save the grade").click()
            expect(page.get_by_role("alert")).to_contain_text("Give the reason")
        page.get_by_label("Reason").fill(reason)
        page.get_by_label("Comment").fill(comment)
        page.get_by_role("button", name="Save the grade").click()
        expect(flash_of(page)).to_contain_text("The grade is saved.")
        history = cells(page, "Every mark and grade that ever stood")
        assert [row[1:3] for row in history[1:]] == {
            2: [["set by hand", "9.5 of 12"], ["attempt 1: handed in", "4 of 12"]],
            3: [["set by hand", "8 of 21"]],
        }[number]
        assert history[1][4] == " — ".join(filter(None, (reason, comment)))


def a_new_version(school: School, folder: Path) -> None:
    """The scenario of lab 3 changes: one of its questions is worth 2 points."""
    new_version(school.database, folder, school.now, NEW_VERSION, slug=LABS[REGRADED].slug)


def regrade(school: School, room: Room, *, by_pages: bool) -> None:
    """Its preview says who changes and by how much; then it is done."""
    assignment_id = room.labs[REGRADED]
    if not by_pages:
        preview = regrading.preview_regrade(
            school.database, instructor=school.instructor, assignment_id=assignment_id, to_version=2
        )
        regrading.regrade(**school.by(), assignment_id=assignment_id, to_version=2, expect=preview.stamp)
        return
    page = school.desk
    page.goto(f"/teaching/assignments/{assignment_id}/regrade")
    page.get_by_role("link", name="Look at version 2").click()
    main = page.get_by_role("main")
    expect(main).to_contain_text("Move from version 1 to version 2")
    terms, counts = (main.get_by_role(role).all_inner_texts() for role in ("term", "definition"))
    facts = {term.capitalize(): count for term, count in zip(terms, counts, strict=True)}
    assert {term: facts[term] for term in REGRADE} == {term: str(count) for term, count in REGRADE.items()}
    changes = {(row[0], row[1]): row[2:] for row in cells(page, "Totals by student")[1:]}
    [early], several = room.of_kind("early"), room.of_kind("of several attempts")
    assert len(changes) == REGRADE["Change in points"]
    assert changes[early.sort_name, "1"] == ["17 of 20", "18 of 21", "+1"]
    assert all((each.sort_name, "1") not in changes for each in several), (
        "9 points hold nothing of that question"
    )
    assert all(changes[each.sort_name, "2"] == ["17 of 20", "18 of 21", "+1"] for each in several)
    page.get_by_role("button", name="Move to version 2 and mark again").click()
    expect(flash_of(page)).to_be_visible()
