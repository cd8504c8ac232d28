"""What the invented class did at the machine: hands-on checks, and a timed heat of two teams."""

from dataclasses import dataclass
from datetime import timedelta
from random import Random

from app.demo.teaching import Desk
from app.domain.hands_on import Level
from app.domain.heats import Act
from app.services import hands_on, heats

SKILLS = (
    "B.1: Mount an assembly on the balancer",
    "B.2: Balance an assembly in two planes",
    "B.3: Measure radial runout with a dial",
    "B.4: Tighten a wheel to torque, in order",
)
SHARES = (0.95, 0.7, 0.45, 0.2)
"""Of the class that was seen at each skill so far."""
NOTED = (0, 2)
"""The skill and the student whose check has a note."""
NOTE = "Forgot the cone at first"
TEAMS = {"Team A": 0, "Team B": 4}
"""Where in the class list the four of each team begin."""
CONTEST = "Four wheels off, on and tightened"


@dataclass(frozen=True)
class Press:
    """One press of the timekeeper, in seconds since the start; team: its place among the teams."""

    act: Act
    seconds: float
    team: int | None = None
    penalty_s: float | None = None
    reason: str = ""


PRESSED = (
    Press(Act.START, 0.0),
    Press(Act.STOP, 412.3, team=1),
    Press(Act.STOP, 437.8, team=0),
    Press(Act.PENALTY, 455.0, team=1, penalty_s=30.0, reason="two nuts out of order"),
)


def check_hands_on(desk: Desk, chance: Random) -> None:
    """Skills in the order they were taught: the later one was, the fewer were seen at it, and alone."""
    began = desk.now - timedelta(days=12)
    hands_on.add_skills(
        desk.database, class_id=desk.class_id, instructor=desk.instructor, lines=SKILLS, now=began
    )
    grid = hands_on.grid(desk.database, class_id=desk.class_id, instructor=desk.instructor, now=desk.now)
    for at, (skill, share) in enumerate(zip(grid.skills, SHARES, strict=True)):
        for number, student_id in enumerate(desk.students.values()):
            if chance.random() >= share:
                continue
            level = chance.choices((Level.SEEN, Level.WITH_HELP, Level.ALONE), weights=(at + 1, 3, 6 - at))[0]
            hands_on.check(
                desk.database,
                class_id=desk.class_id,
                instructor=desk.instructor,
                student_id=student_id,
                skill_id=skill.skill_id,
                level=level,
                key=f"demo-check-{at}-{number}",
                now=began + timedelta(days=2 * at, minutes=5 * number),
                note=NOTE if (at, number) == NOTED else None,
            )


def time_a_heat(desk: Desk) -> None:
    """Two teams of four, one with a penalty; timed by one page's own clock."""
    began = desk.now - timedelta(days=3)
    students = list(desk.students.values())
    contest_id = heats.make_contest(
        desk.database,
        class_id=desk.class_id,
        instructor=desk.instructor,
        title=CONTEST,
        teams={name: students[first : first + 4] for name, first in TEAMS.items()},
        now=began,
    )
    contest = heats.contest(
        desk.database, class_id=desk.class_id, instructor=desk.instructor, contest_id=contest_id, now=began
    )
    for number, press in enumerate(PRESSED):
        heats.press(
            desk.database,
            class_id=desk.class_id,
            instructor=desk.instructor,
            contest_id=contest_id,
            heat_id=contest.heats[0].heat_id,
            act=press.act,
            key=f"demo-heat-press-{number}",
            now=began + timedelta(seconds=press.seconds),
            team_id=None if press.team is None else contest.teams[press.team].team_id,
            page="demo-page",
            page_ms=1000 * press.seconds,
            penalty_s=press.penalty_s,
            reason=press.reason,
        )
