"""What the template of the gradebook receives as `page`, and the same as rows for a spreadsheet."""

from dataclasses import dataclass

from app.exports.tables import Cell
from app.services.review import CellState, Gradebook, GradeCell
from app.web.formatting import counted, number


@dataclass(frozen=True)
class GradebookPage:
    book: Gradebook

    def remarks(self, cell: GradeCell) -> str:
        """What stands under the points: the state in words, and what asks for a look."""
        attempts = counted(cell.attempts, "attempt") if cell.attempts > 1 else ""
        waiting = f"{cell.waiting} to mark" if cell.waiting else ""
        return ", ".join(part for part in (cell.state.value, attempts, waiting) if part)

    @property
    def waiting(self) -> int:
        """Answers in words that nobody has marked yet, in the attempts that count."""
        return sum(cell.waiting for row in self.book.rows for cell in row.cells)

    @property
    def states(self) -> list[tuple[str, list[int]]]:
        """For each state that occurs, how many students are in it at each assignment."""
        columns = list(zip(*(row.cells for row in self.book.rows), strict=True))
        counts = [
            (state.value, [sum(cell.state is state for cell in column) for column in columns])
            for state in CellState
        ]
        return [(word, count) for word, count in counts if any(count)]


def gradebook_table(book: Gradebook) -> tuple[list[str], list[list[Cell]]]:
    """Heads and rows: for each assignment its points (empty while none is handed in) and its state in words.

    Numbers and totals are those of the page: to two decimals, and over what is handed in or past due.
    """
    heads = ["Student", "Sign-in name"]
    for column in book.columns:
        heads += [f"{column.title} (out of {number(column.out_of)})", f"{column.title}: state"]
    rows: list[list[Cell]] = []
    for row in book.rows:
        cells: list[Cell] = [row.sort_name, row.sign_in_name]
        for cell in row.cells:
            cells += [_rounded(cell.points), cell.state.value]
        rows.append([*cells, _rounded(row.total_points), _rounded(row.total_out_of)])
    return [*heads, "Total", "Total out of"], rows


def _rounded(points: float | None) -> float | None:
    return None if points is None else round(points, 2)
