"""The gradebook of a class: every student at every assignment, and what it comes to."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.standing import Standing, State
from app.domain.totals import Category, Earned, Total, total
from app.services.accounts import Person
from app.services.errors import NotFound
from app.services.records import AssignmentRecord
from app.services.rules import exceptional, try_of
from app.services.standings import Place, Standings
from app.services.versions import scenario_of
from app.store import assignments, classes, exceptions
from app.store import gradebook as stored
from app.store.db import Database


@dataclass(frozen=True)
class GradeColumn:
    """out_of: of the version that is given now. category: by its public id."""

    assignment_id: str
    title: str
    out_of: float
    opens_at: datetime
    due_at: datetime
    practice: bool
    category: str | None


@dataclass(frozen=True, slots=True)
class GradeCell:
    """One student at one assignment.

    points: what counts, set by hand or after the late deduction; None while nothing does. marked_points: what
    the marks come to. attempt_id: of the attempt that counts (of an average the last), else the open one.
    waiting: answers that the instructor has yet to mark there. counts: whether it is in the totals now.
    sheet_points, sheet_out_of: of the reflection sheet, None until it is given some; they count with the lab.
    """

    standing: Standing
    points: float | None
    marked_points: float | None
    out_of: float
    attempt_id: str | None
    attempts: int
    waiting: int
    by_hand: bool
    reason: str
    comment: str
    sheet_points: float | None
    sheet_out_of: float

    @property
    def state(self) -> State:
        return self.standing.state

    @property
    def is_graded(self) -> bool:
        """Neither practice nor excused."""
        return self.standing.rules.excused is None and not self.standing.rules.practice

    @property
    def counts(self) -> bool:
        return self.is_graded and (self.standing.in_totals or self.by_hand)


@dataclass(frozen=True)
class GradeRow:
    """One student's cells, in the order of the columns. left: no longer in the class."""

    student_id: str
    name: str
    sort_name: str
    sign_in_name: str
    left: bool
    cells: tuple[GradeCell, ...]
    total: Total


@dataclass(frozen=True)
class Gradebook:
    class_id: str
    class_name: str
    time_zone: str
    put_away: bool
    categories: tuple[Category, ...]
    columns: tuple[GradeColumn, ...]
    rows: tuple[GradeRow, ...]


def gradebook(
    database: Database, *, class_id: str, instructor: Person, now: datetime, student_id: str | None = None
) -> Gradebook:
    """Students who are in the class now, by family name, against its assignments; or one student's row, also
    of a student who left. Raises NotFound."""
    with database.read() as session:
        found = stored.class_with_categories(session, class_id, instructor.id)
        if found is None:
            raise NotFound("There is no such class among yours.")
        row, category_rows = found
        enrolled = classes.enrolments_of(session, row.id)
        if student_id is None:
            wanted = [each for each in enrolled if each.dropped_at is None]
        else:
            wanted = [each for each in enrolled if each.person.public_id == student_id]
            if not wanted:
                raise NotFound("There is no such student in this class.")
        only = wanted[0].person_id if student_id is not None else None
        return _book(session, row, category_rows, wanted, now, only=only)


def own_grades(database: Database, *, student: Person, now: datetime) -> tuple[Gradebook, ...]:
    """A student's own row in the gradebook of each class, by the classes' names."""
    with database.read() as session:
        books = []
        for row in classes.classes_attended_by(session, student.id):
            enrolment = classes.enrolment_of(session, row.id, student.public_id)
            category_rows = stored.categories_of(session, row.id)
            books.append(_book(session, row, category_rows, [enrolment], now, only=student.id))
        return tuple(books)


def _book(
    session: Any,
    row: Any,
    category_rows: Sequence[Any],
    enrolled: Sequence[Any],
    now: datetime,
    *,
    only: int | None,
) -> Gradebook:
    """The book of these students; `only`: the key of a single one, whose attempts alone are read."""
    given = assignments.assignments_of_class(session, row.id)
    by_place = grouped(stored.attempts_with_waiting(session, row.id, only=only))
    own = exceptions.exceptions_in_class(session, row.id)
    beside = stored.grades_beside_marks(session, row.id)
    by_hand, sheets = (
        {(each.assignment_id, each.person_id): each for each in beside if each.is_sheet == is_sheet}
        for is_sheet in (False, True)
    )
    standings = Standings(
        given,
        {place: [try_of(each) for each in rows] for place, rows in by_place.items()},
        {(each.assignment_id, each.person_id): exceptional(each) for each in own},
        {(row.id, each.person_id): each.extra_time_factor for each in enrolled},
        now,
    )
    categories = categories_from(category_rows)
    columns = columns_of(given, category_rows)
    rows = tuple(
        GradeRow(
            student_id=each.person.public_id,
            name=each.person.display_name,
            sort_name=each.person.sort_name,
            sign_in_name=each.person.sign_in_name,
            left=each.dropped_at is not None,
            cells=(cells := cells_of(each.person_id, given, columns, standings, by_place, by_hand, sheets)),
            total=total_of(cells, columns, categories),
        )
        for each in enrolled
    )
    return Gradebook(
        class_id=row.public_id,
        class_name=row.name,
        time_zone=row.time_zone,
        put_away=row.archived_at is not None,
        categories=categories,
        columns=columns,
        rows=rows,
    )


def grouped(tried: Iterable[Any]) -> dict[Place, list[Any]]:
    """Rows of attempts by assignment and person, each in the order they were started."""
    by_place: dict[Place, list[Any]] = {}
    for each in tried:
        by_place.setdefault((each.assignment_id, each.person_id), []).append(each)
    return by_place


def categories_from(rows: Sequence[Any]) -> tuple[Category, ...]:
    return tuple(Category(row.public_id, row.name, row.weight, row.drop_lowest) for row in rows)


def columns_of(given: Sequence[AssignmentRecord], category_rows: Sequence[Any]) -> tuple[GradeColumn, ...]:
    names = {row.id: row.public_id for row in category_rows}
    return tuple(
        GradeColumn(
            assignment_id=each.public_id,
            title=each.title,
            out_of=scenario_of(each.scenario_version).out_of,
            opens_at=each.opens_at,
            due_at=each.due_at,
            practice=each.practice,
            category=names.get(each.category_id),
        )
        for each in given
    )


def cells_of(
    person_key: int,
    given: Sequence[AssignmentRecord],
    columns: Sequence[GradeColumn],
    standings: Standings,
    by_place: Mapping[Place, Sequence[Any]],
    by_hand: Mapping[Place, Any],
    sheets: Mapping[Place, Any],
) -> tuple[GradeCell, ...]:
    """One student's cells, in the order of the columns."""
    return tuple(
        _cell(
            standings.at(each.id, person_key),
            by_place.get((each.id, person_key), ()),
            by_hand.get((each.id, person_key)),
            sheets.get((each.id, person_key)),
            column.out_of,
        )
        for each, column in zip(given, columns, strict=True)
    )


def _cell(standing: Standing, tried: Sequence[Any], hand: Any, sheet: Any, out_of: float) -> GradeCell:
    counted = standing.counted
    shown = _shown(standing, tried)
    points = counted.points if counted else None
    is_set = hand is not None and hand.points is not None
    return GradeCell(
        standing=standing,
        points=hand.points if is_set else points,
        marked_points=points,
        out_of=counted.out_of if counted else out_of,
        attempt_id=shown.public_id if shown else None,
        attempts=len(tried),
        waiting=shown.waiting if shown else 0,
        by_hand=is_set,
        reason=hand.reason if hand else "",
        comment=hand.comment if hand else "",
        sheet_points=sheet.points if sheet else None,
        sheet_out_of=sheet.out_of if sheet else 0.0,
    )


def _shown(standing: Standing, tried: Sequence[Any]) -> Any | None:
    """The attempt behind a cell: of those that count the last, else the last one begun."""
    counting = standing.counted.numbers if standing.counted else ()
    return next((each for each in reversed(tried) if each.number in counting), tried[-1] if tried else None)


def total_of(
    cells: Sequence[GradeCell], columns: Sequence[GradeColumn], categories: Sequence[Category]
) -> Total:
    """What the cells that count now come to; a missing lab is no points, and the points of its reflection
    sheet count with it."""
    earned = [
        Earned(place, column.category, *counted)
        for place, (cell, column) in enumerate(zip(cells, columns, strict=True))
        if (counted := _counted(cell))[1]
    ]
    return total(earned, categories)


def _counted(cell: GradeCell) -> tuple[float, float]:
    """Points that count now and what they are out of; nothing out of nothing where none do."""
    if not cell.is_graded:
        return 0.0, 0.0
    points, out_of = (cell.points or 0.0, cell.out_of) if cell.counts else (0.0, 0.0)
    if cell.sheet_points is None:
        return points, out_of
    return points + cell.sheet_points, out_of + cell.sheet_out_of
