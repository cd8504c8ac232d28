"""What the templates of hands-on checks receive as `page`, and its tables for a spreadsheet."""

from dataclasses import dataclass
from datetime import date

from app.domain.hands_on import LEVELS, Level
from app.exports.tables import Cell
from app.services.hands_on import Grid, GridRow, HistoryLine, Skill, Standing
from app.web.forms import SendForm
from app.web.machine_words import SIGNS, day_words, standing_words
from app.web.teaching.hands_on.forms import SkillsForm


@dataclass(frozen=True)
class GridCell:
    sign: str
    word: str
    day: str
    note: str


@dataclass(frozen=True)
class GridPage:
    grid: Grid

    @property
    def rows(self) -> list[tuple[GridRow, list[GridCell | None]]]:
        return [(row, [self._cell(each) for each in row.standings]) for row in self.grid.rows]

    def _cell(self, standing: Standing) -> GridCell | None:
        if standing.level is None or standing.done_on is None:
            return None
        day = day_words(standing.done_on, self.grid.today)
        return GridCell(SIGNS[standing.level], standing.level.value, day, standing.note)

    @property
    def legend(self) -> list[tuple[str, str]]:
        return [(SIGNS[level], level.value) for level in LEVELS]


@dataclass(frozen=True)
class Tap:
    """One row to tap: a student at a skill. levels: value, sign, word and whether it stands."""

    number: int
    label: str
    code: str | None
    student_id: str
    skill_id: str
    key: str
    standing: Standing
    words: str
    levels: list[tuple[str, str, str, bool]]


def tap(
    number: int, row: GridRow, skill: Skill, standing: Standing, today: date, *, key: str, by: str
) -> Tap:
    """by: `student` for a page of one student, whose rows are named by skills; else by students."""
    return Tap(
        number=number,
        label=skill.name if by == "student" else row.sort_name,
        code=skill.code if by == "student" else None,
        student_id=row.student_id,
        skill_id=skill.skill_id,
        key=key,
        standing=standing,
        words=standing_words(standing, today),
        levels=[
            (level.value, SIGNS[level], level.value.capitalize(), standing.level is level) for level in LEVELS
        ],
    )


@dataclass(frozen=True)
class PickPage:
    grid: Grid


@dataclass(frozen=True)
class TapsPage:
    """One student's skills, or everybody at one skill. before, after: the neighbours, id and name."""

    grid: Grid
    title: str
    by: str
    taps: list[Tap]
    form: SendForm
    history_of: str | None
    before: tuple[str, str] | None
    after: tuple[str, str] | None
    outbox: str
    """Under which name this browser keeps taps that wait: never those of another instructor or class."""


@dataclass(frozen=True)
class HistoryPage:
    grid: Grid
    student: GridRow
    lines: tuple[HistoryLine, ...]

    def sign(self, level: Level) -> str:
        return SIGNS[level]

    def day(self, day: date) -> str:
        return day_words(day, self.grid.today)


@dataclass(frozen=True)
class SkillsPage:
    grid: Grid
    form: SkillsForm
    send_form: SendForm


def grid_table(grid: Grid) -> tuple[tuple[str, ...], list[tuple[Cell, ...]]]:
    """Heads and rows: each skill with its level and the day, and how many are done alone."""
    heads = ["Student"]
    for skill in grid.skills:
        name = f"{skill.code} {skill.name}" if skill.code else skill.name
        heads += [name, f"{name}: day"]
    rows: list[tuple[Cell, ...]] = []
    for row in grid.rows:
        cells: list[Cell] = [row.sort_name]
        for each in row.standings:
            cells += [
                each.level.value if each.level else None,
                each.done_on.isoformat() if each.done_on else None,
            ]
        rows.append((*cells, row.alone))
    return (*heads, "Done alone"), rows


def note_table(grid: Grid) -> tuple[tuple[str, ...], list[tuple[Cell, ...]]]:
    """The notes that stand, one a row."""
    rows = [
        (row.sort_name, skill.name, each.level.value if each.level else "", each.note)
        for row in grid.rows
        for skill, each in zip(grid.skills, row.standings, strict=True)
        if each.note
    ]
    return ("Student", "Skill", "Level", "Note"), list(rows)
