"""Forms and messages of timed heats."""

import random
from collections.abc import Mapping, Sequence
from typing import Any

from wtforms import HiddenField
from wtforms.validators import StopValidation

from app.domain.heats import Act
from app.domain.texts import as_shown
from app.services.errors import Refused
from app.services.hands_on import Grid
from app.services.heats import LONGEST_REASON, LONGEST_TEAM_NAME, LONGEST_TITLE, MOST_TEAMS
from app.web.fields import FiniteField, TextField, select
from app.web.forms import BaseForm

RELOAD = "Reload the page, then press again."
NO_TEAM = ""
USUAL_COUNT = 2
COUNTS = tuple(str(number) for number in range(1, MOST_TEAMS + 1))


class ContestForm(BaseForm):
    """What is timed and how many teams; who is in which team, and what teams are called, stands beside it."""

    title = TextField(
        "What is timed",
        longest=LONGEST_TITLE,
        missing="Say what is timed, like Wheel change, four wheels.",
        hint="Like Wheel change, four wheels.",
    )
    count = select(
        "Teams",
        [(count, count) for count in COUNTS],
        missing="Choose how many teams there are.",
        default=str(USUAL_COUNT),
    )

    def team_names(self, entries: Mapping[str, str]) -> list[str]:
        """As typed, else Team 1, Team 2 and so on."""
        count = int(self.count.data) if self.count.data in COUNTS else USUAL_COUNT
        typed = [" ".join(as_shown(entries.get(f"name-{number}", "")).split()) for number in range(count)]
        return [name[: LONGEST_TEAM_NAME + 1] or f"Team {place}" for place, name in enumerate(typed, start=1)]


def teams_typed(entries: Mapping[str, str], grid: Grid, count: int) -> dict[str, str]:
    """By student id, the number of their team from 0, or NO_TEAM; a number beyond the last is none."""
    numbers = {str(number) for number in range(count)}
    chosen = {row.student_id: entries.get(f"team-{row.student_id}", NO_TEAM) for row in grid.rows}
    return {student: number if number in numbers else NO_TEAM for student, number in chosen.items()}


def shared_out(students: Sequence[str], count: int) -> dict[str, str]:
    """Everybody in a team drawn by lot, teams as even as can be."""
    drawn = random.sample(list(students), len(students))
    return {student: str(place % count) for place, student in enumerate(drawn)}


class PressForm(BaseForm):
    """One act, as a page without a script sends it."""

    act = HiddenField()
    team = HiddenField()
    key = HiddenField()
    undoes = HiddenField()
    penalty_s = FiniteField("Seconds", least=0, most=3600, example="10")
    reason = TextField("What for", longest=LONGEST_REASON)

    def validate_act(self, field: Any) -> None:
        if field.data not in set(Act):
            raise StopValidation(RELOAD)

    def pressed(self) -> dict[str, Any]:
        """As the service takes it. Entries of a penalty belong to a penalty alone."""
        act = Act(self.act.data)
        return {
            "act": act,
            "key": self.key.data or "",
            "team_id": self.team.data or None,
            "undoes": self.undoes.data or None,
            "penalty_s": self.penalty_s.data if act is Act.PENALTY else None,
            "reason": self.reason.data if act is Act.PENALTY else "",
        }


def press_sent(entries: Any) -> dict[str, Any]:
    """What a script says of an act, as the service takes it. Raises Refused."""
    if not isinstance(entries, Mapping) or entries.get("act") not in list(Act):
        raise Refused("act", RELOAD)
    texts = {name: entries.get(name) for name in ("key", "team", "page", "undoes", "reason")}
    numbers = {name: entries.get(name) for name in ("page_ms", "penalty_s")}
    if not all(text is None or isinstance(text, str) for text in texts.values()):
        raise Refused("act", RELOAD)
    if any(
        isinstance(number, bool) or not isinstance(number, int | float | None) for number in numbers.values()
    ):
        raise Refused("penalty_s", "Enter the seconds as a number, like 10.")
    return {
        "act": Act(entries["act"]),
        "key": texts["key"] or "",
        "team_id": texts["team"] or None,
        "page": texts["page"] or None,
        "undoes": texts["undoes"] or None,
        "reason": texts["reason"] or "",
        "page_ms": numbers["page_ms"],
        "penalty_s": numbers["penalty_s"],
    }
