"""The gradebook of a class: every student at every assignment, and what it comes to."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, NamedTuple

from app.domain.standing import Standing, State, Try
from app.domain.totals import Category, Earned, Total, total
from app.services.accounts import Person
from app.services.errors import NotFound
from app.services.records import AssignmentRecord
from app.services.rules import exceptional
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


class Beside(NamedTuple):
    """What stands beside the marks of one student at one assignment.

    set_points: by hand, None where none are, with its reason and comment. sheet_points, sheet_out_of: of the
    reflection sheet, None until it is given some; they count with the lab.
    """

    set_points: float | None = None
    reason: str = ""
    comment: str = ""
    sheet_points: float | None = None
    sheet_out_of: float = 0.0


NOTHING = Beside()


class GradeCell(NamedTuple):
    """One student at one assignment.

    points: what counts, set by hand or after the late deduction; None while nothing does. shown: the attempt
    that counts (of an average the last), else the open one.
    """

    standing: Standing
    points: float | None
    out_of: float
    shown: Try | None
    beside: Beside

    @property
    def state(self) -> State:
        return self.standing.state

    @property
    def marked_points(self) -> float | None:
        """What the marks come to."""
        counted = self.standing.counted
        return None if counted is None else counted.points

    @property
    def attempts(self) -> int:
        return len(self.standing.tries)

    @property
    def attempt_id(self) -> str | None:
        return None if self.shown is None else self.shown.attempt_id

    @property
    def waiting(self) -> int:
        """Answers in the attempt shown that the instructor has yet to mark."""
        return 0 if self.shown is None else self.shown.waiting

    @property
    def by_hand(self) -> bool:
        return self.beside.set_points is not None

    @property
    def is_graded(self) -> bool:
        """Neither practice nor excused."""
        return self.standing.rules.excused is None and not self.standing.rules.practice

    @property
    def counts(self) -> bool:
        """Whether it is in the totals now."""
        return self.standing.in_totals or (self.by_hand and self.is_graded)


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
        if student_id is None:
            wanted = [each for each in classes.enrolments_of(session, row.id) if each.dropped_at is None]
            return _book(session, row, category_rows, wanted, now)
        enrolment = classes.enrolment_of(session, row.id, student_id)
        if enrolment is None:
            raise NotFound("There is no such student in this class.")
        return _book(session, row, category_rows, [enrolment], now, only=enrolment.person_id)


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
    only: int | None = None,
) -> Gradebook:
    """The book of these students; `only`: the key of a single one, of whom alone is read."""
    given = assignments.assignments_of_class(session, row.id)
    tries = _tries(stored.attempts_of_class(session, row.id, only=only))
    if only is None:
        own = exceptions.exceptions_in_class(session, row.id)
    else:
        own = exceptions.exceptions_at(session, [each.id for each in given], [only])
    beside = _beside(stored.grades_beside_marks(session, row.id, only=only))
    standings = Standings(
        given,
        tries,
        {(each.assignment_id, each.person_id): exceptional(each) for each in own},
        {(row.id, each.person_id): each.extra_time_factor for each in enrolled},
        now,
    )
    categories = categories_from(category_rows)
    columns = columns_of(given, category_rows)

    def cell(assignment_key: int, person_key: int, out_of: float) -> GradeCell:
        stands = standings.at(assignment_key, person_key)
        return _cell(stands, out_of, beside.get((assignment_key, person_key), NOTHING))

    out_of = {each.id: column.out_of for each, column in zip(given, columns, strict=True)}
    rows = []
    for each in enrolled:
        person_key = each.person_id
        cells = tuple([cell(key, person_key, points) for key, points in out_of.items()])
        rows.append(
            GradeRow(
                student_id=each.person.public_id,
                name=each.person.display_name,
                sort_name=each.person.sort_name,
                sign_in_name=each.person.sign_in_name,
                left=each.dropped_at is not None,
                cells=cells,
                total=total_of(cells, columns, categories),
            )
        )
    return Gradebook(
        class_id=row.public_id,
        class_name=row.name,
        time_zone=row.time_zone,
        put_away=row.archived_at is not None,
        categories=categories,
        columns=columns,
        rows=tuple(rows),
    )


def _tries(rows: Iterable[Any]) -> dict[Place, list[Try]]:
    """Attempts by assignment and person, each's in the order they were begun."""
    tries: dict[Place, list[Try]] = defaultdict(list)
    for assignment_key, person_key, *columns in rows:
        tries[assignment_key, person_key].append(Try(*columns))
    return tries


def _beside(rows: Iterable[Any]) -> dict[Place, Beside]:
    beside: dict[Place, Beside] = {}
    for each in rows:
        place = each.assignment_id, each.person_id
        if each.is_sheet:
            more = {"sheet_points": each.points, "sheet_out_of": each.out_of}
        else:
            more = {"set_points": each.points, "reason": each.reason, "comment": each.comment}
        beside[place] = beside.get(place, NOTHING)._replace(**more)
    return beside


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


def _cell(standing: Standing, out_of: float, beside: Beside) -> GradeCell:
    counted = standing.counted
    points = None
    if counted is not None:
        points, out_of = counted.points, counted.out_of
    if beside.set_points is not None:
        points = beside.set_points
    return GradeCell(standing, points, out_of, _shown(standing), beside)


def _shown(standing: Standing) -> Try | None:
    """The attempt behind a cell: of those that count the last, else the last one begun."""
    tries, counted = standing.tries, standing.counted
    if len(tries) > 1 and counted is not None:
        return next(each for each in reversed(tries) if each.number in counted.numbers)
    return tries[-1] if tries else None


def total_of(
    cells: Sequence[GradeCell], columns: Sequence[GradeColumn], categories: Sequence[Category]
) -> Total:
    """What the cells that count now come to; a missing lab is no points, and the points of its reflection
    sheet count with it."""
    earned = []
    for place, (cell, column) in enumerate(zip(cells, columns, strict=True)):
        points, out_of = _counted(cell)
        if out_of:
            earned.append(Earned(place, column.category, points, out_of))
    return total(earned, categories)


def _counted(cell: GradeCell) -> tuple[float, float]:
    """Points that count now and what they are out of; nothing out of nothing where none do."""
    points, out_of = (cell.points or 0.0, cell.out_of) if cell.counts else (0.0, 0.0)
    beside = cell.beside
    if beside.sheet_points is not None and cell.is_graded:
        return points + beside.sheet_points, out_of + beside.sheet_out_of
    return points, out_of
