"""What `labs/reflection.html` receives as `page`, and how the page names itself when it saves."""

import hashlib
import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from flask import abort

from app.services.reflection_sheets import Aside, PromptRow, ReflectionState, Sheet, Step
from app.services.reflections import LONGEST_RESPONSE, OpenedPage
from app.web.forms import SendForm
from app.web.lab_sheet import MarkedPart, marked_parts
from app.web.marked import score_text
from app.web.reflection_words import kind_of_stamp, points_text, standing, step_text

_OPENED = re.compile(r"([0-9]{1,9})-([0-9a-f]{16})")


def newly_opened(sheet: Sheet) -> OpenedPage:
    return OpenedPage(secrets.token_hex(8), sheet.changes)


def opened_page(sent: str | None) -> OpenedPage | None:
    """The page that a request says it comes from, None where it says nothing; 400 for what no page says."""
    if not sent:
        return None
    found = _OPENED.fullmatch(sent)
    if found is None:
        abort(400)
    return OpenedPage(found[2], int(found[1]))


def digest(text: str) -> str:
    """Tells whether a text was edited on the page that shows it."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]


@dataclass(frozen=True)
class ReflectionPage:
    """written and problems: by prompt, what stands in its box and why it can't be kept."""

    sheet: Sheet
    form: SendForm
    opened_page: OpenedPage
    written: Mapping[str, str]
    problems: Mapping[str, str]

    longest: int = LONGEST_RESPONSE

    @property
    def opened(self) -> str:
        return f"{self.opened_page.changes}-{self.opened_page.name}"

    @property
    def may_take_back(self) -> bool:
        return self.sheet.state is ReflectionState.HANDED_IN and not self.sheet.put_away

    @property
    def boxes(self) -> list[PromptRow]:
        """The prompts to write under."""
        return [prompt for prompt in self.sheet.prompts if self.sheet.with_the_student and not prompt.closed]

    @property
    def to_read(self) -> list[PromptRow]:
        return [prompt for prompt in self.sheet.prompts if prompt not in self.boxes]

    @property
    def asides(self) -> list[tuple[PromptRow, Aside]]:
        return [(prompt, aside) for prompt in self.sheet.prompts for aside in prompt.asides]

    @property
    def shown(self) -> Mapping[str, str]:
        """By prompt, the digest of the text that this page shows as saved."""
        return {prompt.id: digest(prompt.response) for prompt in self.boxes}

    @property
    def saved_at(self) -> datetime | None:
        return self.sheet.saved_at

    @property
    def standing(self) -> str:
        return standing(self.sheet)

    @property
    def stamp(self) -> str:
        return kind_of_stamp(self.sheet)

    @property
    def points(self) -> str | None:
        return points_text(self.sheet)

    @property
    def steps(self) -> list[tuple[Step, str]]:
        return [(step, step_text(step)) for step in self.sheet.steps]

    @property
    def results(self) -> tuple[MarkedPart, ...]:
        return marked_parts(self.sheet.result) if self.sheet.result else ()

    @property
    def score(self) -> str:
        return score_text(self.sheet.result) if self.sheet.result else ""
