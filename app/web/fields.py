"""Form fields that refuse what must not come in, with words that say what to do.

Each field is required when it is given `missing`, the sentence to show when nothing was typed.
"""

import math
import re
from collections.abc import Mapping, Sequence
from typing import Any

from wtforms import BooleanField, Field, PasswordField, RadioField, SelectField, StringField, TextAreaField
from wtforms.fields.choices import SelectChoice, SelectMultipleField
from wtforms.validators import StopValidation
from wtforms.widgets import CheckboxInput, ListWidget, TextInput

from app.domain.pass_phrases import LONGEST_PASS_PHRASE
from app.domain.texts import can_be_shown, normalised

NUMBER = re.compile(r"[+-]?([0-9]{1,20}(\.[0-9]{0,20})?|\.[0-9]{1,20})([eE][+-]?[0-9]{1,3})?")
"""Plain decimal digits only: no `nan`, `inf`, `1_000`, hexadecimal or digits of other scripts."""

UNREADABLE = "\N{REPLACEMENT CHARACTER}"
"""Stands for bytes that were no text."""


def made_visible(text: str) -> str:
    """What was typed, as a page shows it again: what can't be seen is made visible, to be taken out."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(sign if can_be_shown(sign) else UNREADABLE for sign in lines)


def fault_in_text(text: str, longest: int) -> str | None:
    """Why a text can't be taken, as a sentence; None for a good one."""
    for place, sign in enumerate(text, start=1):
        if sign == UNREADABLE or not can_be_shown(sign):
            return f"Take out the unreadable character {UNREADABLE} at place {place} (U+{ord(sign):04X})."
    if len(text) > longest:
        return f"Shorten this to {longest} characters; it has {len(text)} now."
    return None


class TickField(BooleanField):
    """A box to tick, which is shown again with its own value, whatever was sent."""

    def _value(self) -> str:
        return "y"


class _TextMixin(Field):
    """Trims, normalises to composed letters, and refuses invisible characters and over-long text."""

    def __init__(
        self, label: str, *, longest: int, missing: str | None = None, hint: str = "", **more: Any
    ) -> None:
        super().__init__(label, description=hint, **more)
        self.longest = longest
        self.missing = missing

    def _value(self) -> str:
        return made_visible(self.data or "")

    def tidy(self, text: str) -> str:
        return " ".join(normalised(text, "NFC").split())

    def process_formdata(self, valuelist: Sequence[str]) -> None:
        if valuelist:
            self.data = self.tidy(valuelist[0])

    def pre_validate(self, form: Any) -> None:  # noqa: ARG002
        if not self.data:
            if self.missing:
                raise StopValidation(self.missing)
            self.data = ""
        fault = fault_in_text(self.data, self.longest)
        if fault:
            raise StopValidation(fault)


class TextField(_TextMixin, StringField):
    """One line of text; runs of spaces become one. `data` is the tidied text."""


class LongTextField(_TextMixin, TextAreaField):
    """Several lines of text; line ends become `\\n`, spaces at a line's end go."""

    def tidy(self, text: str) -> str:
        lines = normalised(text, "NFC").replace("\r\n", "\n").replace("\r", "\n").split("\n")
        return "\n".join(line.rstrip() for line in lines).strip("\n")


class PassPhraseField(PasswordField):
    """A pass phrase: kept exactly as typed, never shown again."""

    def __init__(self, label: str, *, missing: str | None = None, hint: str = "", **more: Any) -> None:
        super().__init__(label, description=hint, **more)
        self.missing = missing

    def pre_validate(self, form: Any) -> None:  # noqa: ARG002 (WTForms passes it)
        if not self.data and self.missing:
            raise StopValidation(self.missing)
        if self.data and len(self.data) > LONGEST_PASS_PHRASE:
            raise StopValidation(f"Use a pass phrase of at most {LONGEST_PASS_PHRASE} characters.")


class FiniteField(Field):
    """A finite number within [least, most]; shows again exactly what was typed.

    WTForms' own number fields take `nan` and `inf`, and a comparison with nan lets it through every range.
    """

    widget = TextInput()
    data: Any
    """A float, None when nothing was typed; of a WholeField an int."""

    def __init__(
        self,
        label: str,
        *,
        least: float,
        most: float,
        example: str,
        missing: str | None = None,
        hint: str = "",
        **more: Any,
    ) -> None:
        super().__init__(label, description=hint, **more)
        self.least, self.most, self.example, self.missing = least, most, example, missing

    def _value(self) -> str:
        if self.raw_data:
            return made_visible(str(self.raw_data[0]))
        return "" if self.data is None else f"{self.data:g}"

    def process_formdata(self, valuelist: Sequence[str]) -> None:
        self.data = None
        typed = valuelist[0].strip().replace("\N{MINUS SIGN}", "-") if valuelist else ""
        if not typed:
            return
        number = float(typed) if NUMBER.fullmatch(typed) else math.nan
        if not math.isfinite(number):
            raise ValueError(f"Enter a number, like {self.example}.")
        if not self.least <= number <= self.most:
            raise ValueError(f"Enter a number from {self.least:g} to {self.most:g}.")
        self.data = number

    def pre_validate(self, form: Any) -> None:  # noqa: ARG002
        if self.data is None and not self.process_errors and self.missing:
            raise StopValidation(self.missing)


class WholeField(FiniteField):
    """A whole number within [least, most]; `data` is an int."""

    def process_formdata(self, valuelist: Sequence[str]) -> None:
        super().process_formdata(valuelist)
        if self.data is None:
            return
        if self.data != int(self.data):
            self.data = None
            raise ValueError(f"Enter a whole number, like {self.example}.")
        self.data = int(self.data)


Options = Sequence[tuple[str, str]]


def _choices(options: Options, group: str = "") -> list[SelectChoice]:
    return [SelectChoice(value, label, optgroup=group or None) for value, label in options]


def radio(label: str, options: Options, *, missing: str, hint: str = "", **more: Any) -> Any:
    """Radio buttons for one of `options`, pairs of value and label."""
    return RadioField(
        label, choices=_choices(options), invalid_choice_message=missing, description=hint, **more
    )


def grouped_choices(options: Options | Mapping[str, Options]) -> list[SelectChoice]:
    """The choices of a list: of a mapping in groups by heading, '' for none."""
    if isinstance(options, Mapping):
        return [choice for group, members in options.items() for choice in _choices(members, group)]
    return _choices(options)


def select(
    label: str, options: Options | Mapping[str, Options], *, missing: str, hint: str = "", **more: Any
) -> Any:
    """A list to pick one of `options` from; a mapping gives groups by heading, '' for none."""
    return SelectField(
        label, choices=grouped_choices(options), invalid_choice_message=missing, description=hint, **more
    )


class MultiCheckboxField(SelectMultipleField):
    """Checkboxes for any number of options, given when the form is made: `form.field.offer(options)`."""

    widget = ListWidget(prefix_label=False)
    option_widget = CheckboxInput()

    def __init__(self, label: str, *, missing: str | None = None, hint: str = "", **more: Any) -> None:
        super().__init__(label, description=hint, choices=[], **more)
        self.missing = missing

    def offer(self, options: Options) -> None:
        self.choices = _choices(options)

    def pre_validate(self, form: Any) -> None:  # noqa: ARG002
        offered = {choice.value for choice in self.choices}
        if not set(self.data or ()) <= offered:
            raise StopValidation("The list has changed since you opened this page. Choose again.")
        if not self.data and self.missing:
            raise StopValidation(self.missing)
