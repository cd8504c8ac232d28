"""An invented class that has worked its labs, to look around in.

Its students work through the same use cases as real ones: every answer is saved, handed in and marked by the
real path. Only what they type is invented, in `app.demo.behaviour`.
"""

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

from app.demo import people, shop, teaching
from app.demo.behaviour import Habits, habits_of, reflect, work
from app.demo.teaching import Desk
from app.domain.measures import UnitSystem
from app.services import accounts, assignments, classes, practice, reflection_workflow, reflections, scenarios
from app.services.accounts import Person
from app.services.cards import Card, add_students
from app.services.errors import Refused
from app.settings import SCENARIOS
from app.store.db import Database

SIGN_IN_FILE = "demo-sign-in.json"
SEED = 20260901
"""The same class is invented every time; its pass phrases and seeds of variants are not part of it."""


@dataclass(frozen=True)
class DemoAccounts:
    """Who to look around as."""

    instructor: Card
    student: Card


@dataclass(frozen=True)
class Lesson:
    """A lab the class was given: its days from now, and what shares of the class handed it in or began it.

    As it is given it opens and is due at the hours of a class: within a day before the days named here.
    late_percent: what a day late costs. sheets: the share of its reflection sheets that were handed in.
    """

    slug: str
    title: str
    opened_days_ago: float
    due_in_days: float
    attempts_allowed: int | None
    handed_in: float
    begun: float
    late_percent: float = 0.0
    sheets: float = 0.0


LESSONS = (
    Lesson("two-plane-balance", "Lab 1: One assembly on the balancer", 16, -9, 3, 0.92, 0.04, sheets=0.7),
    Lesson(
        "runout-and-match-mounting", "Lab 2: Runout and match mounting", 8, -1, 2, 0.75, 0.1, late_percent=10
    ),
    Lesson("four-assemblies", "Lab 3: A set of four", 2, 5, 2, 0.3, 0.3),
)
TERM_BEGAN = timedelta(days=30)


def make_demo(
    database: Database,
    *,
    folder: Path,
    now: datetime,
    progress: Callable[[int, int], None] | None = None,
) -> DemoAccounts:
    """Make the demo class, or find it when it is there already.

    folder: where the two pass phrases to look around with are kept, readable by their owner only; the
    database has just their hashes. progress is called with (done, of) while students work. Raises Refused for
    a folder with a class of its own.
    """
    kept = folder / SIGN_IN_FILE
    if kept.exists():
        cards = json.loads(kept.read_text(encoding="utf-8"))
        return DemoAccounts(Card(**cards["instructor"]), Card(**cards["student"]))
    if accounts.setup_link(database, now=now) is None:
        raise Refused(
            "folder", f"{folder} holds another class, or a demo that was cut short. Name another folder."
        )
    chance = Random(SEED)  # noqa: S311 -- invents behaviour, guards nothing
    term_began = now - TERM_BEGAN
    instructor_card = _instructor_card(database, term_began)
    instructor = _sign_in(database, instructor_card, now)
    class_id = classes.make_class(
        database,
        instructor=instructor,
        name=people.CLASS_NAME,
        time_zone=people.CLASS_TIME_ZONE,
        units=UnitSystem.US,
        now=term_began,
    )
    cards = add_students(
        database,
        class_id=class_id,
        instructor=instructor,
        names=list(people.STUDENTS),
        now=term_began,
    )
    lessons = _assign(database, class_id, instructor, now)
    detail = classes.class_page(database, class_id=class_id, instructor=instructor)
    students = {each.display_name: each.public_id for each in detail.students}
    desk = Desk(database, class_id, instructor, students, now)
    first, second, third = (assignment_id for _, assignment_id in lessons)
    teaching.ask_on_the_sheets(desk, first, now - timedelta(days=lessons[0][0].opened_days_ago))
    for number, card in enumerate(cards):
        if progress is not None:
            progress(number, len(cards))
        last_seen = now - timedelta(days=chance.uniform(0, 3))
        student, habits = _sign_in(database, card, last_seen), habits_of(chance)
        for lesson, assignment_id in lessons:
            # The first card is the one to look around as: its first lab is done and its last one open.
            place = number / len(cards) if lesson.due_in_days < 0 else 1 - (number + 1) / len(cards)
            _take_lesson(database, lesson, assignment_id, student, habits, place, now, chance)
    teaching.weigh(desk, "Labs", 60, [first, second])
    teaching.weigh(desk, "Whole jobs", 40, [third])
    teaching.make_exceptions(desk, excused_from=first, longer_for=second)
    teaching.set_a_grade(desk, second)
    teaching.read_sheets(desk, first)
    shop.check_hands_on(desk, chance)
    shop.time_a_heat(desk)
    accounts_made = DemoAccounts(instructor_card, cards[0])
    _keep(kept, accounts_made)
    return accounts_made


def _instructor_card(database: Database, now: datetime) -> Card:
    pass_phrase = accounts.add_instructor(
        database, display_name=people.INSTRUCTOR, sign_in_name=people.INSTRUCTOR_SIGN_IN, now=now
    )
    return Card(people.INSTRUCTOR, people.INSTRUCTOR_SIGN_IN, pass_phrase)


def _sign_in(database: Database, card: Card, now: datetime) -> Person:
    signed_in = accounts.sign_in(
        database, sign_in_name=card.sign_in_name, pass_phrase=card.pass_phrase, now=now
    )
    accounts.sign_out(database, token=signed_in.token, now=now)
    return signed_in.person


def _assign(database: Database, class_id: str, instructor: Person, now: datetime) -> list[tuple[Lesson, str]]:
    scenarios.load_shipped(database, folder=SCENARIOS, now=now - TERM_BEGAN)
    by_slug = {card.slug: card.public_id for card in scenarios.library(database)}
    given = []
    for lesson in LESSONS:
        opens_at = people.last_time_of_day(now - timedelta(days=lesson.opened_days_ago), people.OPENING)
        due_at = people.last_time_of_day(now + timedelta(days=lesson.due_in_days), people.LAST_MINUTE)
        assignment_id = assignments.assign(
            database,
            class_id=class_id,
            instructor=instructor,
            scenario_id=by_slug[lesson.slug],
            title=lesson.title,
            opens_at=opens_at,
            due_at=due_at,
            attempts_allowed=lesson.attempts_allowed,
            late_percent_per_day=lesson.late_percent,
            now=opens_at,
        )
        as_given = replace(
            lesson,
            opened_days_ago=(now - opens_at) / timedelta(days=1),
            due_in_days=(due_at - now) / timedelta(days=1),
        )
        given.append((as_given, assignment_id))
    return given


def _take_lesson(
    database: Database,
    lesson: Lesson,
    assignment_id: str,
    student: Person,
    habits: Habits,
    place: float,
    now: datetime,
    chance: Random,
) -> None:
    """One student at one lab; `place` (0 to 1) decides whether it is handed in, begun or not touched."""
    if place >= lesson.handed_in + lesson.begun:
        return
    until = min(0.0, lesson.due_in_days + (2 if chance.random() < 0.08 else 0)) - 0.1
    started = now + timedelta(days=chance.uniform(-lesson.opened_days_ago + 0.1, until))
    if lesson.late_percent and student.display_name == people.LATE:
        started = now + timedelta(days=lesson.due_in_days + 0.3)
    if place >= lesson.handed_in:
        if lesson.due_in_days > 0:  # the class is at it as one looks
            started = now - timedelta(minutes=chance.uniform(10, 35))
        _work_once(database, assignment_id, student, habits, started, chance, until=now)
        return
    _work_once(database, assignment_id, student, habits, started, chance)
    again = started + timedelta(hours=chance.uniform(2, 20))
    if chance.random() < 0.3 and again < now:
        better = Habits(min(0.98, habits.skill + 0.12), habits.diligence)
        _work_once(database, assignment_id, student, better, again, chance)
    hand_in_sheet = place < lesson.sheets
    _write_reflection(
        database, assignment_id, student, habits, min(again, now), chance, hand_in=hand_in_sheet
    )


def _work_once(
    database: Database,
    assignment_id: str,
    student: Person,
    habits: Habits,
    started: datetime,
    chance: Random,
    *,
    until: datetime | None = None,
) -> None:
    """One attempt, handed in unless it is one that stays open with what was saved `until` then."""
    attempt_id = practice.start_attempt(database, assignment_id=assignment_id, student=student, now=started)
    lab = practice.lab(database, attempt_id=attempt_id, student=student)
    typed = work(lab.variant, habits, chance)
    now = started
    for part in lab.variant.scenario.lab_parts:
        now += timedelta(minutes=chance.uniform(3, 12))
        if until is not None and now > until:
            return
        answers = {task.id: typed[task.id] for task in part.tasks if task.id in typed}
        practice.save_answers(database, attempt_id=attempt_id, student=student, answers=answers, now=now)
    if until is None:
        practice.hand_in(database, attempt_id=attempt_id, student=student, now=now)


def _write_reflection(
    database: Database,
    assignment_id: str,
    student: Person,
    habits: Habits,
    now: datetime,
    chance: Random,
    *,
    hand_in: bool,
) -> None:
    prompts = reflections.sheet(database, assignment_id=assignment_id, student=student).prompts
    for prompt in prompts:
        if text := reflect(habits, prompt.id, chance):
            reflections.save(
                database,
                assignment_id=assignment_id,
                student=student,
                prompt_id=prompt.id,
                text=text,
                now=now,
            )
    if hand_in:
        reflection_workflow.hand_in(database, assignment_id=assignment_id, student=student, now=now)


def _keep(file: Path, made: DemoAccounts) -> None:
    file.touch(mode=0o600)
    file.write_text(
        json.dumps({"instructor": asdict(made.instructor), "student": asdict(made.student)}, indent=1),
        encoding="utf-8",
    )
