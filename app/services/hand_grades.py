"""Grades set by hand, with a reason, and the history of all that one student earned at one assignment."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.reach import note, refuse_when_put_away
from app.services.versions import scenario_of
from app.store import assignments, attempts, classes
from app.store import gradebook as stored
from app.store.choices import MarkSource
from app.store.db import Database

LONGEST_REASON = 200
LONGEST_COMMENT = 1000
MOST_OVER = 2
"""Times the points possible that may be given at most."""


@dataclass(frozen=True)
class HistoryEntry:
    """Something that changed what a student has. points: what the attempt's marks came to then, or what was
    set by hand (None: taken back). by: who did it, None for Heavy Spot itself."""

    at: datetime
    what: str
    points: float | None
    out_of: float
    by: str | None
    reason: str
    stands: bool


def set_by_hand(
    database: Database,
    *,
    assignment_id: str,
    student_id: str,
    instructor: Person,
    points: float | None,
    reason: str,
    comment: str,
    now: datetime,
) -> None:
    """Set, change or take back (points None) a grade, and what the student is told beside it.

    Points need a reason; a comment alone needs none. Raises NotFound and Refused.
    """
    reason, comment = " ".join(reason.split()), comment.strip()
    if len(reason) > LONGEST_REASON:
        raise Refused("reason", f"Shorten the reason to at most {LONGEST_REASON} characters.")
    if len(comment) > LONGEST_COMMENT:
        raise Refused("comment", f"Shorten the comment to at most {LONGEST_COMMENT} characters.")
    with database.write() as session:
        row, enrolment = _place(session, assignment_id, student_id, instructor)
        refuse_when_put_away(row.school_class)
        most = MOST_OVER * scenario_of(row.scenario_version).out_of
        if points is not None and not 0 <= points <= most:
            raise Refused(
                "points", f"Give 0 to {most:g} points, or leave it empty for what the marks come to."
            )
        if points is not None and not reason:
            raise Refused("reason", "Give the reason; the student and the history show it.")
        standing = stored.hand_grades_of_student(session, [row.id], enrolment.person_id)
        if [(each.points, each.reason, each.comment) for each in standing] == [(points, reason, comment)]:
            return
        stored.set_hand_grade(
            session,
            assignment_key=row.id,
            student_key=enrolment.person_id,
            points=points,
            reason=reason,
            comment=comment,
            made_by=instructor.id,
            now=now,
        )
        note(
            session,
            now,
            instructor,
            "set grade",
            row.school_class,
            assignment=assignment_id,
            student=student_id,
            points=points,
        )


def history(
    database: Database, *, assignment_id: str, student_id: str, instructor: Person
) -> tuple[HistoryEntry, ...]:
    """Every mark that ever stood and every grade set by hand, the newest first. Raises NotFound."""
    with database.read() as session:
        row, enrolment = _place(session, assignment_id, student_id, instructor)
        tried = attempts.attempts_at(session, [row.id], enrolment.person_id)
        marks = stored.marks_ever_of(session, [each.id for each in tried])
        names = {each.id: each.display_name for each in classes.instructors_of(session, row.class_id)}
        scenario = scenario_of(row.scenario_version)
        titles = {task.id: task.title for task in scenario.tasks}
        entries = [
            entry
            for each in tried
            for entry in _marked(each, [mark for mark in marks if mark.attempt_id == each.id], names, titles)
        ]
        entries += [
            HistoryEntry(
                at=each.made_at,
                what="set by hand" if each.points is not None else "no grade by hand",
                points=each.points,
                out_of=scenario.out_of,
                by=each.maker.display_name,
                reason=" — ".join(part for part in (each.reason, each.comment) if part),
                stands=each.superseded_at is None,
            )
            for each in stored.hand_grades_at(session, row.id, enrolment.person_id)
        ]
        return tuple(sorted(entries, key=lambda each: each.at, reverse=True))


def _marked(
    attempt: Any, marks: Sequence[Any], names: Mapping[int, str], titles: Mapping[str, str]
) -> list[HistoryEntry]:
    """An attempt's totals at each moment at which marks were made, from the marks that stood then. titles: of
    the tasks that are asked now."""
    moments = sorted({mark.made_at for mark in marks})
    entries = []
    for moment in moments:
        made = [mark for mark in marks if mark.made_at == moment]
        stood = [
            mark
            for mark in marks
            if mark.made_at <= moment and (mark.superseded_at is None or mark.superseded_at > moment)
        ]
        by_hand = [mark for mark in made if mark.source is MarkSource.INSTRUCTOR]
        what = "marked by hand" if by_hand else "handed in" if moment == moments[0] else "marked again"
        entries.append(
            HistoryEntry(
                at=moment,
                what=f"attempt {attempt.number}: {what}",
                points=math.fsum(mark.points for mark in stood),
                out_of=math.fsum(mark.out_of for mark in stood),
                by=names.get(by_hand[0].made_by, "an instructor") if by_hand else None,
                reason=", ".join(titles.get(mark.task_id, mark.task_id) for mark in by_hand),
                stands=moment == moments[-1],
            )
        )
    return entries


def _place(session: Any, assignment_id: str, student_id: str, instructor: Person) -> tuple[Any, Any]:
    row: Any = assignments.assignment_taught_by(session, assignment_id, instructor.id)
    enrolment = row and classes.enrolment_of(session, row.class_id, student_id)
    if enrolment is None:
        raise NotFound("There is no such student at this assignment.")
    return row, enrolment
