"""The gradebook, on its page, in its files and as its students see it, against the hand calculation."""

import csv
from io import BytesIO, StringIO

from openpyxl import load_workbook
from playwright.sync_api import expect

from tests.browser.lab_page import cells
from tests.browser.term.school import Room, School
from tests.browser.term.story import LABS, SHOP, TIMED
from tests.browser.term.sums import DONE, OPEN, OUT_OF, STATES, SUMS, Sums

HEADS = [
    *("Student", "Sign-in name"),
    *(
        head
        for number, rules in LABS.items()
        for head in (f"{rules.title} (out of {OUT_OF[number - 1]})", f"{rules.title}: state")
    ),
    *(f"{SHOP} (percent)", f"{TIMED} (percent)", "Total (percent)", "Total points", "Total out of"),
]


def stored_points_add_up(school: School) -> None:
    """By plain SQL: an attempt's points are the sum of its marks that stand."""
    assert not school.ask(
        """SELECT attempt.id FROM attempt JOIN mark ON mark.attempt_id = attempt.id
           WHERE mark.superseded_at IS NULL GROUP BY attempt.id
           HAVING abs(sum(mark.points) - attempt.points) > 1e-9
              OR abs(sum(mark.out_of) - attempt.out_of) > 1e-9"""
    )


def expected_rows(room: Room) -> list[list[str | float | None]]:
    """As the hand calculation has them, by family name."""
    rows = []
    for pupil in sorted(room.pupils, key=lambda each: each.sort_name):
        sums = SUMS[pupil.kind]
        labs = [cell for pair in zip(sums.points, sums.states, strict=True) for cell in pair]
        percents = [round(each, 2) for each in (sums.shop, sums.timed, sums.total)]
        rows.append([pupil.sort_name, room.cards[pupil.name].sign_in_name, *labs, *percents, None, None])
    return rows


def files(school: School, room: Room) -> None:
    """Cell by cell: CSV and XLSX."""
    address = f"/teaching/classes/{room.class_id}/gradebook"
    expected = expected_rows(room)
    text = school.file(f"{address}.csv").decode("utf-8-sig")
    heads, *rows = csv.reader(StringIO(text, newline=""))
    assert heads == HEADS
    assert [[_number(cell) for cell in row] for row in rows] == [_as_text(row) for row in expected]
    [sheet] = load_workbook(BytesIO(school.file(f"{address}.xlsx"))).worksheets
    heads, *rows = ([cell.value for cell in row] for row in sheet.iter_rows())
    assert heads == HEADS
    assert rows == expected
    assert sheet.max_row == 31


def _number(cell: str) -> str | float:
    try:
        return float(cell)
    except ValueError:
        return cell


def _as_text(row: list[str | float | None]) -> list[str | float]:
    return ["" if cell is None else cell for cell in row]


def page(school: School, room: Room) -> None:
    """Cell by cell: what the page shows of each student, the counts under it, and its sorting by total."""
    desk = school.desk
    desk.goto(f"/teaching/classes/{room.class_id}/gradebook")
    heads, *rows = cells(desk, "^Points by student", role="grid")
    assert heads[2:] == [
        f"{rules.title}\nout of {out_of}, {'practice' if rules.practice else rules.category}"
        for rules, out_of in zip(LABS.values(), OUT_OF, strict=True)
    ]
    by_name = sorted(room.pupils, key=lambda each: each.sort_name)
    assert rows[:30] == [_shown(each.sort_name, SUMS[each.kind]) for each in by_name]
    assert rows[30:] == [[state, "", *map(str, counts)] for state, counts in STATES.items()]
    desk.get_by_role("columnheader").get_by_role("link", name="Total").click()
    expect(desk.get_by_role("columnheader", name="Total")).to_have_attribute("aria-sort", "ascending")
    first = desk.locator("tbody tr").first
    expect(first).to_contain_text(f"{_rounded(SUMS['missing'].total)} %")


def _shown(name: str, sums: Sums) -> list[str]:
    """A row of the page: the points, and under them the state where it says more than they do."""
    labs = [
        "\n".join(([] if points is None else [f"{points:g}"]) + ([] if state in (DONE, OPEN) else [state]))
        for points, state in zip(sums.points, sums.states, strict=True)
    ]
    parts = f"{SHOP} {_rounded(sums.shop)} %,\n{TIMED} {_rounded(sums.timed)} %"
    return [name, f"{_rounded(sums.total)} %\n{parts}", *labs]


def _rounded(percent: float) -> str:
    return f"{percent:.1f}".removesuffix(".0")


TOLD = {
    "late": (
        "\N{MINUS SIGN}10 % a day, 2 days late: 12 of 12 → 9.6.",
        "\N{MINUS SIGN}20 % a day, 1 day late: 13 of 17 → 10.4.",
        "The lowest of its category: it doesn’t count.",
    ),
    "very late": ("\N{MINUS SIGN}10 % a day, 9 days late, at least 50 % stay: 12 of 12 → 6.",),
    "of several attempts": (
        "2 attempts; the best one counts (attempt 1).",
        "2 attempts; the last one counts (attempt 2).",
        "2 attempts; their average counts.",
        "Reflection sheet: 3 of 5.",
        "Practice: it doesn’t count.",
    ),
    "excused": ("Excused: ill that week.",),
    "by hand": (
        "Set by hand: Shown again at the machine. The marks come to 4.",
        "Steady hands this time.",
        "Set by hand: Told me the rule in the shop.",
    ),
    "missing": ("Nothing is handed in: it counts as no points.",),
    "out of time": ("\N{MINUS SIGN}20 % a day, 3 days late: 10 of 17 → 4.",),
}
"""What students like these read beside their own grades."""


def of_students(school: School, room: Room) -> None:
    """Their own page has the same total, and explains what counts and what doesn't."""
    for kind, sentences in TOLD.items():
        own = school.window_of(room, room.of_kind(kind)[0])
        own.goto("/labs/grades")
        expect(own.get_by_text(f"Total: {_rounded(SUMS[kind].total)} %")).to_be_visible()
        for sentence in sentences:
            expect(own.get_by_text(sentence).first).to_be_visible()


def of_a_grade_by_hand(school: School, room: Room) -> None:
    """The student's list of labs has it too."""
    own = school.window_of(room, room.of_kind("by hand")[0])
    own.goto("/labs")
    row = own.get_by_role("listitem").filter(has_text=LABS[2].title)
    expect(row.get_by_text("set by hand 9.5 of 12")).to_be_visible()


def what_the_clock_closed(school: School, room: Room) -> None:
    """The instructor reads it on the attempt's page."""
    [pupil] = room.of_kind("out of time")
    for number, words in {4: "The time limit ended", 7: "The lab closed"}.items():
        [attempt] = school.ask(
            """SELECT attempt.public_id FROM attempt JOIN assignment ON assignment.id = attempt.assignment_id
               JOIN person ON person.id = attempt.person_id
               WHERE assignment.public_id = :lab AND person.public_id = :student""",
            lab=room.labs[number],
            student=room.student_id(pupil),
        )
        school.desk.goto(f"/teaching/attempts/{attempt['public_id']}")
        expect(school.desk.get_by_text(words)).to_be_visible()
