"""What the template of the gradebook receives as `page`, and the same as rows for a spreadsheet."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

from app.domain.standing import State
from app.domain.totals import Total
from app.exports.tables import Cell
from app.services.gradebook import NOTHING, Gradebook, GradeCell, GradeColumn, GradeRow
from app.web.formatting import number, percent
from app.web.teaching.gradebook_view import SHOWN, View

RED = {State.LATE, State.MISSING, State.OVERDUE}
"""States that ask for a look; the word says it too."""

WORDS = {state: state.value for state in State} | {
    State.NOT_OPEN: "",
    State.TO_DO: "",
    State.HANDED_IN: "",
}
"""What a cell says of its state: nothing where nothing is due, or the points say it."""


class ShownCell(NamedTuple):
    """points: as text, empty while there are none. words: under them."""

    points: str
    words: str
    red: bool


@dataclass(frozen=True)
class ShownRow:
    student_id: str
    name: str
    row: GradeRow
    total: str
    total_words: str

    @property
    def cells(self) -> list[ShownCell]:
        """Made as the page comes to the row, so that only one row's are there."""
        dropped = self.row.total.dropped
        return [shown_cell(cell, dropped=place in dropped) for place, cell in enumerate(self.row.cells)]


@dataclass(frozen=True)
class GradebookPage:
    book: Gradebook
    view: View

    @property
    def choices(self) -> Sequence[tuple[str, str]]:
        return tuple(SHOWN.items())

    @cached_property
    def rows(self) -> list[ShownRow]:
        return [
            ShownRow(row.student_id, row.sort_name, row, total_text(row.total), total_words(row.total))
            for row in self.view.rows_of(self.book)
        ]

    def under(self, column: GradeColumn) -> str:
        """What stands under an assignment's title."""
        names = {each.id: each.name for each in self.book.categories}
        words = [f"out of {number(column.out_of)}"]
        if column.practice:
            words.append("practice")
        elif self.book.categories:
            words.append(names.get(column.category, "in no category"))
        return ", ".join(words)

    @cached_property
    def waiting(self) -> int:
        """Answers in words that nobody has marked yet, in the attempts that count."""
        return sum(cell.waiting for row in self.book.rows for cell in row.cells)

    @property
    def states(self) -> list[tuple[str, list[int]]]:
        """For each state that occurs, how many students are in it at each assignment."""
        states = [[cell.standing.state for cell in row.cells] for row in self.book.rows]
        columns = list(zip(*states, strict=True))
        counts = [(state.value, [column.count(state) for column in columns]) for state in State]
        return [(word, count) for word, count in counts if any(count)]

    @property
    def uncounted(self) -> list[str]:
        """Assignments that no total counts because they are in no category, while there are categories."""
        if not self.book.categories:
            return []
        return [each.title for each in self.book.columns if each.category is None and not each.practice]


def shown_cell(cell: GradeCell, *, dropped: bool = False) -> ShownCell:
    return ShownCell(
        "" if cell.points is None else points_text(cell.points),
        cell_words(cell, dropped=dropped),
        cell.standing.state in RED,
    )


points_text = lru_cache(maxsize=1000)(number)
"""The same few points stand in most cells."""


def cell_words(cell: GradeCell, *, dropped: bool = False) -> str:
    """The state in words, and whatever else makes the points what they are."""
    word, beside = WORDS[cell.standing.state], cell.beside
    if beside is NOTHING and not cell.waiting and not dropped:
        return word
    words = [word]
    if cell.by_hand:
        words.append("by hand")
    if beside.sheet_points is not None:
        words.append(f"sheet {number(beside.sheet_points)} of {number(beside.sheet_out_of)}")
    if cell.waiting:
        words.append(f"{cell.waiting} to mark")
    if dropped:
        words.append("not counted")
    return ", ".join(word for word in words if word)


def total_text(total: Total) -> str:
    return "–" if total.share is None else f"{percent(total.share, 1)} %"


def total_words(total: Total) -> str:
    """What a total is made of: the points, or the categories' shares, each on its line."""
    if total.points is not None and total.out_of:
        return f"{number(total.points)} of {number(total.out_of)}"
    return ",\n".join(f"{each.category.name} {percent(each.share, 1)} %" for each in total.by_category)


def gradebook_table(book: Gradebook) -> tuple[list[str], list[list[Cell]]]:
    """Heads and rows: for each assignment its points (empty while none count) and its state in words, for
    each category and the total the percent. Numbers are those of the page, to two decimals."""
    heads = ["Student", "Sign-in name"]
    for column in book.columns:
        heads += [f"{column.title} (out of {number(column.out_of)})", f"{column.title}: state"]
    heads += [f"{each.name} (percent)" for each in book.categories]
    rows: list[list[Cell]] = []
    for row in book.rows:
        cells: list[Cell] = [row.sort_name, row.sign_in_name]
        for place, cell in enumerate(row.cells):
            words = cell_words(cell, dropped=place in row.total.dropped)
            cells += [_rounded(cell.points), words or cell.state.value]
        shares = {each.category.id: each.share for each in row.total.by_category}
        cells += [_percent(shares.get(each.id)) for each in book.categories]
        total = row.total
        rows.append([*cells, _percent(total.share), _rounded(total.points), _rounded(total.out_of)])
    return [*heads, "Total (percent)", "Total points", "Total out of"], rows


def _rounded(points: float | None) -> float | None:
    return None if points is None else round(points, 2)


def _percent(share: float | None) -> float | None:
    return None if share is None else round(100 * share, 2)
