"""Forms and messages of hands-on checks."""

import secrets
from collections.abc import Mapping
from datetime import date
from typing import Any

from wtforms import HiddenField

from app.domain.hands_on import Level
from app.services.errors import Refused
from app.services.hands_on import LONGEST_NOTE, LONGEST_SKILL
from app.web.fields import LongTextField, MultiCheckboxField, TextField
from app.web.forms import BaseForm

RELOAD = "Reload the page, then tap again."


def fresh_key() -> str:
    """Names one tap of a page without a script, so that sending its form twice changes nothing."""
    return secrets.token_urlsafe(9)


class TapForm(BaseForm):
    """One tap, as a page without a script sends it."""

    student = HiddenField()
    skill = HiddenField()
    key = HiddenField()
    level = HiddenField()
    note = TextField("Note", longest=LONGEST_NOTE)
    done_on = TextField("Day", longest=10)


def tap_sent(entries: Mapping[str, Any]) -> dict[str, Any]:
    """What a form or a script says of a tap, as the service takes it. Raises Refused."""
    if not isinstance(entries, Mapping):
        raise Refused("key", RELOAD)
    words = {name: entries.get(name) for name in ("student", "skill", "key", "level")}
    if not all(isinstance(word, str) for word in words.values()):
        raise Refused("key", RELOAD)
    if words["level"] not in set(Level):
        raise Refused("level", "Tap seen, with help or alone.")
    note = entries.get("note")
    if note is not None and not isinstance(note, str):
        raise Refused("note", "Type the note as text.")
    return {
        "student_id": words["student"],
        "skill_id": words["skill"],
        "key": words["key"],
        "level": Level(str(words["level"])),
        "note": note,
        "done_on": _day(entries.get("done_on")),
    }


def _day(typed: Any) -> date | None:
    if typed in (None, ""):
        return None
    try:
        return date.fromisoformat(typed)
    except (TypeError, ValueError) as error:
        raise Refused("done_on", "Enter the day as year-month-day, like 2030-03-04.") from error


class SkillsForm(BaseForm):
    lines = LongTextField(
        "Skills, one a line",
        longest=200 * (LONGEST_SKILL + 50),
        hint="With its number in your task list in front where it has one: “C.3: Balance an assembly”.",
    )
    ticked = MultiCheckboxField("From the scenarios")
