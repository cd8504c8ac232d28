"""A class's results as a school's own program takes them, under the ids that the program knows."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from app.domain.marking import Verdict
from app.domain.standing import Standing, State
from app.exports.oneroster_results import LineItem, Score, ScoreStatus
from app.services.accounts import Person
from app.services.reach import own_class
from app.services.standings import standings_of_class
from app.services.versions import scenario_of
from app.store import assignments, attempts, classes, rosters
from app.store.choices import KeyKind
from app.store.db import Database


@dataclass(frozen=True)
class ClassResults:
    """own_ids: how many students go by an id of ours, because no list of the school has named them."""

    class_name: str
    time_zone: str
    items: tuple[LineItem, ...]
    scores: tuple[Score, ...]
    own_ids: int


def results_of_class(database: Database, *, class_id: str, instructor: Person, now: datetime) -> ClassResults:
    """Students who are in the class now at everything it was given but practice. Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        given = assignments.assignments_of_class(session, row.id)
        students = [each for each in classes.enrolments_of(session, row.id) if each.dropped_at is None]
        where = standings_of_class(session, given, row.id, now)
        keys = rosters.keys_of(session, [each.person_id for each in students])
        waiting = attempts.waiting_in_class(session, row.id, Verdict.WAITING)
        handed_in: dict[tuple[int, int], list[Any]] = {}
        for attempt in attempts.attempts_in_class(session, row.id):
            handed_in.setdefault((attempt.assignment_id, attempt.person_id), []).append(attempt)
        class_key = rosters.roster_id_of(session, row.id) or row.public_id
        zone = ZoneInfo(row.time_zone)
        items, scores = [], []
        for each in given:
            item = LineItem(
                assignment_id=each.public_id,
                class_id=class_key,
                title=each.title,
                assigned_on=each.opens_at.astimezone(zone).date(),
                due_on=each.due_at.astimezone(zone).date(),
                out_of=scenario_of(each.scenario_version).out_of,
            )
            stands = {student.id: where.at(each.id, student.person_id) for student in students}
            if any(stand.rules.practice for stand in stands.values()):
                continue
            items.append(item)
            for student in students:
                own = handed_in.get((each.id, student.person_id), [])
                scores.append(
                    _score(
                        item,
                        keys.get(student.person_id, {}).get(KeyKind.ROSTER_ID) or student.person.public_id,
                        stands[student.id],
                        [attempt for attempt in own if attempt.handed_in_at],
                        waiting,
                        now.astimezone(zone).date(),
                        zone,
                    )
                )
        return ClassResults(
            class_name=row.name,
            time_zone=row.time_zone,
            items=tuple(items),
            scores=tuple(scores),
            own_ids=sum(KeyKind.ROSTER_ID not in keys.get(each.person_id, {}) for each in students),
        )


def _score(
    item: LineItem,
    student_id: str,
    stand: Standing,
    done: list[Any],
    waiting: Mapping[int, int],
    today: date,
    zone: ZoneInfo,
) -> Score:
    """One result. Its points are on the scale of the assignment now, also where an earlier version of the
    scenario was worked that was out of other points."""
    counted = stand.counted
    counting = [each for each in done if counted and each.number in counted.numbers]
    latest = max((each.handed_in_at for each in counting), default=None)
    return Score(
        assignment_id=item.assignment_id,
        class_id=item.class_id,
        student_id=student_id,
        status=_status(stand, any(waiting.get(each.id) for each in counting)),
        points=None if counted is None or stand.state is State.EXCUSED else counted.share * item.out_of,
        scored_on=latest.astimezone(zone).date() if latest else today,
        in_progress=stand.state is State.IN_PROGRESS,
        late=counted is not None and counted.late,
        missing=stand.state in (State.MISSING, State.OVERDUE),
    )


def _status(stand: Standing, waiting: bool) -> ScoreStatus:
    if stand.state is State.EXCUSED:
        return ScoreStatus.EXEMPT
    if stand.counted is None:
        return ScoreStatus.NOT_SUBMITTED
    return ScoreStatus.PARTIALLY_GRADED if waiting else ScoreStatus.FULLY_GRADED
