"""A student's grades in sentences: the same for the student and for the instructor."""

from dataclasses import dataclass

from app.domain.standing import deduction_words
from app.domain.totals import Total
from app.services.gradebook import Gradebook, GradeCell, GradeRow
from app.web.formatting import counted, number, percent


@dataclass(frozen=True)
class GradeLine:
    """One assignment of a student. why: what makes the points what they are, a sentence each."""

    assignment_id: str
    title: str
    points: str
    out_of: str
    cell: GradeCell
    why: tuple[str, ...]


def grade_lines(book: Gradebook, row: GradeRow) -> list[GradeLine]:
    names = {each.id: each for each in book.categories}
    lines = []
    for place, (column, cell) in enumerate(zip(book.columns, row.cells, strict=True)):
        why = list(_why(cell))
        if column.practice:
            why.append("Practice: it doesn’t count.")
        elif book.categories:
            category = names.get(column.category)
            why.append(f"Category: {category.name}." if category else "In no category: it doesn’t count.")
        if place in row.total.dropped:
            why.append("The lowest of its category: it doesn’t count.")
        points = "–" if cell.points is None else number(cell.points)
        lines.append(
            GradeLine(column.assignment_id, column.title, points, number(cell.out_of), cell, tuple(why))
        )
    return lines


def _why(cell: GradeCell) -> list[str]:
    standing = cell.standing
    why = []
    if standing.rules.excused is not None:
        why.append(f"Excused: {standing.rules.excused}.")
    if cell.by_hand:
        marked = "" if cell.marked_points is None else f" The marks come to {number(cell.marked_points)}."
        why.append(f"Set by hand: {cell.beside.reason}.{marked}")
    elif standing.counted is not None:
        if len(standing.attempts) > 1:
            numbers = " and ".join(str(each) for each in standing.counted.numbers)
            attempts = counted(len(standing.attempts), "attempt")
            why.append(f"{attempts}; {_which_counts(standing.rules.counts.value, numbers)}")
        counting = [each for each in standing.attempts if each.number in standing.counted.numbers]
        why += [f"{words}." for each in counting if (words := deduction_words(standing.rules, each))]
    elif cell.counts:
        why.append("Nothing is handed in: it counts as no points.")
    if cell.beside.sheet_points is not None:
        why.append(
            f"Reflection sheet: {number(cell.beside.sheet_points)} of {number(cell.beside.sheet_out_of)}."
        )
    if cell.waiting:
        why.append(f"{counted(cell.waiting, 'answer')} still to be marked by the instructor.")
    return why


def _which_counts(counts: str, numbers: str) -> str:
    return "their average counts." if counts == "average" else f"the {counts} one counts (attempt {numbers})."


def total_line(total: Total) -> str:
    """How a total comes about, in a sentence."""
    if total.share is None:
        return "Nothing counts yet."
    in_percent = f"{percent(total.share, 1)} %"
    if total.points is not None:
        return f"{number(total.points)} of {number(total.out_of)} points: {in_percent}."
    parts = [
        f"{each.category.name} {percent(each.share, 1)} % "
        f"({number(each.points)} of {number(each.out_of)}), weighing {number(each.percent_of_total, 1)} %"
        for each in total.by_category
    ]
    return f"{in_percent}: {'; '.join(parts)}."
