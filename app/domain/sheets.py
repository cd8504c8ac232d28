"""The vocabulary of everything an author fills in: frozen, strict, and with numbers that may be drawn."""

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Annotated, Any, Self, TypeVar

from pydantic import AfterValidator, BaseModel, ConfigDict, Discriminator, Field, Tag, model_validator


class AuthoredTable(BaseModel):
    """Base of every authored table: frozen, no unknown fields, no NaN or infinity, no number in quotes."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, strict=True)


Finite = Annotated[float, Field(ge=-1e7, le=1e7)]
SMALLEST = 0.001
"""Of what is divided by: far less than any wheel has, and enough for every quotient to be a finite number."""

Positive = Annotated[float, Field(gt=0, le=1e7)]
Text = Annotated[str, Field(min_length=1, max_length=6000)]
Line = Annotated[str, Field(min_length=1, max_length=160)]
Slug = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60)]
Letter = Annotated[str, Field(pattern=r"^[A-Z][A-Z0-9]?$")]


MOST_STEPS = 1_000_000


class Between(AuthoredTable):
    """A range; with a step, the values low, low + step, ... up to high are equally likely."""

    low: Finite
    high: Finite
    step: Positive | None = None

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.low > self.high:
            raise ValueError("low must not be above high")
        if self.step is not None and self.step > self.high - self.low:
            raise ValueError("step must not be larger than high - low")
        if self.step is not None and self.step * MOST_STEPS < self.high - self.low:
            raise ValueError(f"step must not be smaller than (high - low) / {MOST_STEPS}")
        return self


class OneOf(AuthoredTable):
    """One of a few values, equally likely."""

    one_of: Annotated[tuple[Finite, ...], Field(min_length=1, max_length=60)]


def _kind_of_number(value: Any) -> str:
    if isinstance(value, Between) or (isinstance(value, Mapping) and ("low" in value or "high" in value)):
        return "range"
    if isinstance(value, OneOf | Mapping):
        return "list"
    return "number"


Drawn = Annotated[
    Annotated[Finite, Tag("number")] | Annotated[Between, Tag("range")] | Annotated[OneOf, Tag("list")],
    Discriminator(_kind_of_number),
]
"""A number that each variant draws: fixed, a range, or one of a list."""


class OneOfTexts(AuthoredTable):
    """One of a few texts, equally likely."""

    one_of: Annotated[tuple[Line, ...], Field(min_length=1, max_length=60)]


def _kind_of_text(value: Any) -> str:
    return "list" if isinstance(value, OneOfTexts | Mapping) else "text"


DrawnLine = Annotated[
    Annotated[Line, Tag("text")] | Annotated[OneOfTexts, Tag("list")], Discriminator(_kind_of_text)
]
"""A line of text that each variant draws: fixed, or one of a list."""


def texts_of(drawn: str | OneOfTexts) -> tuple[str, ...]:
    """Every text that a draw can give."""
    return drawn.one_of if isinstance(drawn, OneOfTexts) else (drawn,)


def drawn_among(*allowed: str) -> AfterValidator:
    """A check that every draw is one of a few words."""

    def check(drawn: DrawnText) -> DrawnText:
        if other := set(texts_of(drawn)) - set(allowed):
            raise ValueError(f"must be one of {', '.join(allowed)} in every draw, not {min(other)}")
        return drawn

    return AfterValidator(check)


DrawnText = TypeVar("DrawnText", str, OneOfTexts)


def extremes(drawn: float | Between | OneOf) -> tuple[float, float]:
    """Least and greatest value that a draw can give."""
    if isinstance(drawn, Between):
        return drawn.low, drawn.high
    if isinstance(drawn, OneOf):
        return min(drawn.one_of), max(drawn.one_of)
    return drawn, drawn


Number = TypeVar("Number", float, Between, OneOf)


def _above_zero(drawn: Number) -> Number:
    if extremes(drawn)[0] < SMALLEST:
        raise ValueError(f"must be above 0 in every draw, and at least {SMALLEST:g}")
    return drawn


def _not_negative(drawn: Number) -> Number:
    if extremes(drawn)[0] < 0:
        raise ValueError("must not be below 0 in any draw")
    return drawn


def _whole(drawn: Number) -> Number:
    """Whole in every draw: a range is whole when it starts and steps so."""
    numbers: tuple[float | None, ...] = (drawn,) if isinstance(drawn, float) else ()
    if isinstance(drawn, Between):
        numbers = (drawn.low, drawn.step)
    elif isinstance(drawn, OneOf):
        numbers = drawn.one_of
    if any(number is None or number != int(number) for number in numbers):
        raise ValueError("must be a whole number in every draw; give a range a step of 1")
    return drawn


DrawnAboveZero = Annotated[Drawn, AfterValidator(_above_zero)]
DrawnNotNegative = Annotated[Drawn, AfterValidator(_not_negative)]
DrawnWhole = Annotated[Drawn, AfterValidator(_whole)]


def drawn_within(low: float, high: float) -> AfterValidator:
    """A check that every draw lies from low to high."""

    def check(drawn: Number) -> Number:
        least, greatest = extremes(drawn)
        if least < low or greatest > high:
            raise ValueError(f"must be from {low:g} to {high:g} in every draw")
        return drawn

    return AfterValidator(check)


def repeated(names: Iterable[object]) -> str:
    """The names that occur more than once, for a fault; empty when each is its own."""
    return ", ".join(str(name) for name, times in Counter(names).items() if times > 1)
