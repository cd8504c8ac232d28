"""Which rows of a gradebook are shown, and in which order: what its address asks for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from app.domain.standing import State
from app.services.gradebook import Gradebook, GradeRow
from app.web.fields import made_visible

BY_NAME, BY_TOTAL = "name", "total"
TO_MARK = "to mark"
LONGEST_SEARCH = 60

SHOWN = {
    "": "Everyone",
    State.MISSING.value: "With a lab missing",
    State.OVERDUE.value: "With a lab overdue",
    State.LATE.value: "With late work",
    State.IN_PROGRESS.value: "With a lab in progress",
    State.EXCUSED.value: "Excused from a lab",
    TO_MARK: "With answers to mark",
}


@dataclass(frozen=True)
class View:
    """find: part of a name. state: one of SHOWN. sort: by name, by total, or an assignment's id."""

    find: str = ""
    state: str = ""
    sort: str = BY_NAME
    down: bool = False

    @classmethod
    def asked_for(cls, query: Mapping[str, str], book: Gradebook) -> "View":
        """What can't be read is left out, so that an old address still shows a gradebook."""
        state, sort = query.get("state", ""), query.get("sort", BY_NAME)
        known = {BY_NAME, BY_TOTAL, *(column.assignment_id for column in book.columns)}
        return cls(
            find=made_visible(" ".join(query.get("find", "").split())[:LONGEST_SEARCH]),
            state=state if state in SHOWN else "",
            sort=sort if sort in known else BY_NAME,
            down=query.get("down") == "1",
        )

    def rows_of(self, book: Gradebook) -> Sequence[GradeRow]:
        """The rows to show. Who has no points stands last, whichever way the points are sorted."""
        rows = [row for row in book.rows if self._shows(row)]
        if self.sort == BY_NAME:
            return rows[::-1] if self.down else rows
        place = next((at for at, each in enumerate(book.columns) if each.assignment_id == self.sort), None)

        def points(row: GradeRow) -> float | None:
            return row.total.share if place is None else row.cells[place].points

        sign = -1 if self.down else 1
        return sorted(rows, key=lambda row: inf if (found := points(row)) is None else sign * found)

    def _shows(self, row: GradeRow) -> bool:
        wanted = self.find.casefold()
        if wanted and wanted not in f"{row.name} {row.sort_name} {row.sign_in_name}".casefold():
            return False
        if self.state == TO_MARK:
            return any(cell.waiting for cell in row.cells)
        return not self.state or any(cell.state == self.state for cell in row.cells)

    def sorted_by(self, sort: str) -> dict[str, str]:
        """The address's entries for sorting by this head; again by the same head turns it around."""
        turned = self.sort == sort and not self.down
        asked = {"find": self.find, "state": self.state, "sort": sort, "down": "1" if turned else ""}
        return {name: value for name, value in asked.items() if value}

    def direction(self, sort: str) -> str | None:
        """For aria-sort: None where it isn't sorted by this head."""
        return ("descending" if self.down else "ascending") if self.sort == sort else None
