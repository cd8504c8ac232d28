"""A class's results as a school's own program takes them, under the ids that the program knows."""

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from app.domain.standing import State
from app.exports.oneroster_results import USUAL_CATEGORY, Category, LineItem, Score, ScoreStatus
from app.services.accounts import Person
from app.services.gradebook import GradeCell, gradebook
from app.services.reach import own_class
from app.store import assignments, attempts, classes, rosters
from app.store.choices import KeyKind
from app.store.db import Database


@dataclass(frozen=True)
class ClassResults:
    class_name: str
    time_zone: str
    items: tuple[LineItem, ...]
    scores: tuple[Score, ...]


def results_of_class(database: Database, *, class_id: str, instructor: Person, now: datetime) -> ClassResults:
    """What the gradebook says of the students who are in the class now, at everything but practice. A student
    whom no list of the school has named goes by our id. Raises NotFound."""
    book = gradebook(database, class_id=class_id, instructor=instructor, now=now)
    zone = ZoneInfo(book.time_zone)
    today = now.astimezone(zone).date()
    categories = {each.id: Category(str(each.id), each.name, each.weight) for each in book.categories}
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        class_key = rosters.roster_id_of(session, row.id) or row.public_id
        people = {each.person_id: each.person.public_id for each in classes.enrolments_of(session, row.id)}
        keys = rosters.keys_of(session, list(people))
        given = {each.id: each.public_id for each in assignments.assignments_of_class(session, row.id)}
        handed_in: dict[tuple[str, str], dict[int, date]] = {}
        for each in attempts.attempts_in_class(session, row.id):
            if each.handed_in_at is not None and each.person_id in people:
                where = (given[each.assignment_id], people[each.person_id])
                handed_in.setdefault(where, {})[each.number] = each.handed_in_at.astimezone(zone).date()
    known_as = {people[key]: own[KeyKind.ROSTER_ID] for key, own in keys.items() if KeyKind.ROSTER_ID in own}
    items, scores = [], []
    for place, column in enumerate(book.columns):
        if column.practice:
            continue
        items.append(
            LineItem(
                assignment_id=column.assignment_id,
                class_id=class_key,
                title=column.title,
                assigned_on=column.opens_at.astimezone(zone).date(),
                due_on=column.due_at.astimezone(zone).date(),
                out_of=column.out_of,
                category=categories[column.category] if column.category else USUAL_CATEGORY,
            )
        )
        for student in book.rows:
            days = handed_in.get((column.assignment_id, student.student_id), {})
            student_id = known_as.get(student.student_id, student.student_id)
            scores.append(_score(items[-1], student_id, student.cells[place], days, today))
    return ClassResults(
        class_name=book.class_name,
        time_zone=book.time_zone,
        items=tuple(items),
        scores=tuple(scores),
    )


def _score(item: LineItem, student_id: str, cell: GradeCell, days: dict[int, date], today: date) -> Score:
    """One result. Its points are on the scale of the assignment now, also where an earlier version of the
    scenario was worked that was out of other points."""
    counted = cell.standing.counted
    excused = cell.state is State.EXCUSED
    share = cell.points / cell.out_of if cell.points is not None and cell.out_of else None
    counting = [days[number] for number in counted.numbers if number in days] if counted else []
    return Score(
        assignment_id=item.assignment_id,
        class_id=item.class_id,
        student_id=student_id,
        status=_status(cell),
        points=None if share is None or excused else share * item.out_of,
        scored_on=max(counting, default=today),
        in_progress=cell.state is State.IN_PROGRESS,
        late=counted is not None and counted.late,
        missing=cell.points is None and cell.state in (State.MISSING, State.OVERDUE),
    )


def _status(cell: GradeCell) -> ScoreStatus:
    if cell.state is State.EXCUSED:
        return ScoreStatus.EXEMPT
    if cell.points is None:
        return ScoreStatus.NOT_SUBMITTED
    return ScoreStatus.PARTIALLY_GRADED if cell.waiting and not cell.by_hand else ScoreStatus.FULLY_GRADED
