"""One class with everything in it, for looking at each page in each of its states."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from app.domain.measures import UnitSystem
from app.services import bench, classes, hints, practice, reflections, scenarios
from app.services.accounts import Person
from app.services.cards import Card
from tests.browser.school import Classroom, new_classroom, new_instructor
from tests.browser.server import Server
from tests.services import lessons
from tests.services.lessons import right_answers

LESSONS = Path(__file__).parent / "lessons"


@dataclass(frozen=True)
class Stage:
    """classroom: full; `fresh` has a class with nothing in it; `newcomer` is an instructor with no class."""

    server: Server
    classroom: Classroom
    handed_in: str
    """Its assignment; `result` is the attempt."""
    result: str
    in_progress: str
    """Its assignment; `open_attempt` holds an answer that can't be read."""
    open_attempt: str
    every_answer: str
    """An open attempt at a lab with steps to order, spots to mark and hints; one hint is shown."""
    every_result: str
    """An attempt at the same lab, handed in half right."""
    late: str
    not_open: str
    dropped: Person
    fresh: Classroom
    fresh_assignment: str
    to_start: str
    """Another one, whose attempt is started by the visit that needs it."""
    without_card: Person
    """In the fresh class, for the visit that makes a new card: nobody signs in with the old one."""
    empty_class: str
    put_away: str
    newcomer: Card
    bench: str
    """An attempt at a bench with an assembly on the stand and others in work elsewhere."""
    fresh_bench: str
    lonely_student: Card
    no_calculators: Card
    """Of a student in a class whose instructor has switched the calculators off."""


def set_up(server: Server) -> Stage:
    database, now = server.database, datetime.now(UTC)
    classroom = new_classroom(database, student="Maximiliana Featherstonehaugh-Okafor")
    handed_in = classroom.assign("four-assemblies", title="Lab 3: A set of four")
    result = hand_in(classroom, handed_in)
    write_the_reflection(classroom, handed_in)
    in_progress = classroom.assign("runout-and-match-mounting", title="Lab 2: Runout")
    open_attempt = classroom.start(in_progress)
    practice.save_answers(
        database,
        attempt_id=open_attempt,
        student=classroom.student,
        answers={"inboard-total": "0.4 stones", "inboard-first": "0.31 mm", "why-first": "once-per-turn"},
        now=now,
    )
    late = classroom.assign(
        title="Lab 1: Balance", due_in=timedelta(hours=-1), opens_in=timedelta(days=-3), attempts_allowed=1
    )
    hand_in(classroom, late)
    not_open = classroom.assign(title="Lab 4: Balance again", opens_in=timedelta(days=1))
    dropped, _ = classroom.another_student("Pat O’Neill")
    keys = {"class_id": classroom.class_id, "instructor": classroom.instructor, "now": now}
    classes.drop_student(database, student_id=dropped.public_id, **keys)  # type: ignore[arg-type]
    at_the_bench = classroom.start(classroom.assign("bench-four-assemblies", title="Lab 5: At the bench"))
    work_at_the_bench(classroom, at_the_bench)
    fresh = new_classroom(database, units=UnitSystem.METRIC, name="Auto 1")
    put_away = new_class(fresh, "Auto 1, last year")
    classes.archive_class(database, class_id=put_away, instructor=fresh.instructor, archived=True, now=now)
    lonely = new_classroom(database)
    switched_off = new_classroom(database)
    classes.update_class(
        database,
        class_id=switched_off.class_id,
        instructor=switched_off.instructor,
        name="Auto 3",
        time_zone="America/Chicago",
        units=UnitSystem.US,
        calculators_on=False,
        now=now,
    )
    every_kind = every_kind_of_answer(classroom)
    every_result = hand_in_half_right(classroom, every_kind)
    return Stage(
        server=server,
        classroom=classroom,
        handed_in=handed_in,
        result=result,
        in_progress=in_progress,
        open_attempt=open_attempt,
        every_result=every_result,
        every_answer=with_a_hint(classroom, every_kind),
        late=late,
        not_open=not_open,
        dropped=dropped,
        fresh=fresh,
        fresh_assignment=fresh.assign(),
        to_start=fresh.assign(title="Lab 2"),
        without_card=fresh.another_student("Bo Diaz")[0],
        empty_class=new_class(fresh, "Nobody yet"),
        put_away=put_away,
        bench=at_the_bench,
        fresh_bench=fresh.start(fresh.assign("bench-four-assemblies", title="Lab 5")),
        newcomer=new_instructor(database)[1],
        lonely_student=lonely.card,
        no_calculators=switched_off.card,
    )


def hand_in(classroom: Classroom, assignment_id: str) -> str:
    """An attempt with right, wrong and blank answers, handed in; returns its id."""
    attempt_id = classroom.start(assignment_id)
    right = right_answers(classroom.lab(attempt_id).variant)
    answers = dict(list(right.items())[2:])  # the first two stay blank
    if "inboard-angle" in answers:
        answers["inboard-angle"] = "359"
    if "comfort" in answers:
        answers["comfort"] = {"LF": "D", "RF": "C", "LR": "B", "RR": "A"}
    lessons.hand_in(
        classroom.database,
        attempt_id=attempt_id,
        student=classroom.student,
        answers=answers,
        now=datetime.now(UTC),
    )
    return attempt_id


def every_kind_of_answer(classroom: Classroom) -> str:
    """The assignment of the lab of `lessons/`: the kinds of answer that the shipped ones lack."""
    scenarios.load_shipped(classroom.database, folder=LESSONS, now=datetime.now(UTC))
    return classroom.assign("every-answer", title="Lab 6: Every kind of answer")


def hand_in_half_right(classroom: Classroom, assignment_id: str) -> str:
    attempt_id = with_a_hint(classroom, assignment_id)
    steps = {"torque": "1", "clean": "2", "hang": "3", "nuts": "4", "pressure": "5"}
    lessons.hand_in(
        classroom.database,
        attempt_id=attempt_id,
        student=classroom.student,
        answers={
            "fitting-order": steps,
            "tools": ["brush", "hammer"],
            "on-the-wheel": "0, 90",
            "tell": "It shakes.",
        },
        now=datetime.now(UTC),
    )
    return attempt_id


def with_a_hint(classroom: Classroom, assignment_id: str) -> str:
    """An open attempt at that lab."""
    database, now = classroom.database, datetime.now(UTC)
    attempt_id = classroom.start(assignment_id)
    hints.show_hint(
        database,
        attempt_id=attempt_id,
        student=classroom.student,
        task_id="on-the-wheel",
        number=1,
        now=now,
    )
    return attempt_id


def work_at_the_bench(classroom: Classroom, attempt_id: str) -> None:
    """An assembly at each station, and one refusal in the log."""
    actions: list[dict[str, object]] = [
        {"do": "bring", "assembly": "A", "to": "balancer"},
        {"do": "clamp", "grip": "firm"},
        {"do": "spin", "hood_down": False},
        {"do": "bring", "assembly": "B", "to": "roller"},
        {"do": "bring", "assembly": "D", "to": "gauge"},
        {"do": "raise-car", "at": "lift points"},
        {"do": "look", "assembly": "C", "at": "sidewall"},
        {"do": "bring", "assembly": "C", "to": "stand"},
        {"do": "inflate", "kpa": 230},
    ]
    for number, action in enumerate(actions):
        bench.act(
            classroom.database,
            attempt_id=attempt_id,
            student=classroom.student,
            action=action,
            expect=number,
            now=datetime.now(UTC),
        )


def write_the_reflection(classroom: Classroom, assignment_id: str) -> None:
    sheet = reflections.sheet(classroom.database, assignment_id=assignment_id, student=classroom.student)
    for prompt in sheet.prompts[:2]:
        reflections.save(
            classroom.database,
            assignment_id=assignment_id,
            student=classroom.student,
            prompt_id=prompt.id,
            text="A long word does not tear the page: " + "unbalanced" * 12,
            now=datetime.now(UTC),
        )


def new_class(classroom: Classroom, name: str) -> str:
    return classes.make_class(
        classroom.database,
        instructor=classroom.instructor,
        name=name,
        time_zone="America/Chicago",
        units=UnitSystem.METRIC,
        now=datetime.now(UTC),
    )
