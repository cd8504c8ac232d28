"""The vocabulary of everything an author fills in: frozen, strict, and with numbers that may be drawn."""

from collections.abc import Mapping
from typing import Annotated, Any, Self

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag, model_validator


class Sheet(BaseModel):
    """Base of every authored table: frozen, no unknown fields, no NaN or infinity, no number in quotes."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, strict=True)


Finite = Annotated[float, Field(ge=-1e7, le=1e7)]
Positive = Annotated[float, Field(gt=0, le=1e7)]
Text = Annotated[str, Field(min_length=1, max_length=6000)]
Line = Annotated[str, Field(min_length=1, max_length=160)]
Slug = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60)]
Letter = Annotated[str, Field(pattern=r"^[A-Z][A-Z0-9]?$")]


class Between(Sheet):
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
        return self


class OneOf(Sheet):
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


def extremes(drawn: "float | Between | OneOf") -> tuple[float, float]:
    """Least and greatest value that a draw can give."""
    if isinstance(drawn, Between):
        return drawn.low, drawn.high
    if isinstance(drawn, OneOf):
        return min(drawn.one_of), max(drawn.one_of)
    return drawn, drawn
