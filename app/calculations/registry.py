"""The calculations by their wire names: one door for `heavyspot calc` and for the calculators in the browser.

A calculation is a function from a validated input to a plain answer:

    @calculation("two-plane-correction", "The two weights that cancel given unbalances")
    def two_plane_correction(given: TwoPlaneGiven) -> Answer: ...

`fields` says what an argument of the core is called on the wire: a refusal names what the caller wrote.
"""

import difflib
import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
from pydantic import ValidationError

from app.calculations.refusals import in_plain_words, refusal
from app.calculations.wire import Answer, Given
from app.compute.errors import ComputeError

GivenT = TypeVar("GivenT", bound=Given)


@dataclass(frozen=True)
class Calculation:
    """One calculation: its wire name, one line about it, its input model and the function."""

    name: str
    description: str
    model: type[Given]
    compute: Callable[[Any], Answer]
    fields: Mapping[str, str]


_calculations: dict[str, Calculation] = {}


def calculation(
    name: str, description: str, fields: Mapping[str, str] | None = None
) -> Callable[[Callable[[GivenT], Answer]], Callable[[GivenT], Answer]]:
    """Register a function of one annotated argument under its wire name."""

    def register(compute: Callable[[GivenT], Answer]) -> Callable[[GivenT], Answer]:
        if name in _calculations:
            raise ValueError(f"two calculations are named {name}")
        (parameter,) = inspect.signature(compute, eval_str=True).parameters.values()
        _calculations[name] = Calculation(name, description, parameter.annotation, compute, fields or {})
        return compute

    return register


def names() -> list[str]:
    """The names of all calculations, in alphabetical order."""
    return sorted(_calculations)


def description(name: str) -> str:
    """One line about a calculation. Raises KeyError for an unknown name."""
    return _calculations[name].description


def schema(name: str) -> dict[str, Any]:
    """The JSON Schema of a calculation's input. Raises KeyError for an unknown name."""
    return _calculations[name].model.model_json_schema()


def unknown_name(name: object) -> Answer | None:
    """The refusal for a name that no calculation has; None for one that has."""
    if not isinstance(name, str):
        return refusal("name", "Give the name of a calculation as text.")
    if name in _calculations:
        return None
    close = difflib.get_close_matches(name[:60], names(), n=1)
    hint = f" Did you mean {close[0]}?" if close else " `heavyspot calc --list` lists the names."
    return refusal("name", f"There is no calculation named {name[:60]}.{hint}")


def answer(name: object, given: object) -> Answer:
    """The answer to a calculation, or `{"error": {"field", "message"}}`. Never raises for any JSON input."""
    unknown = unknown_name(name)
    if unknown is not None:
        return unknown
    chosen = _calculations[str(name)]
    try:
        # An overflow or an undefined operation is refused, not answered with infinity or "not a number".
        with np.errstate(over="raise", divide="raise", invalid="raise"):
            return chosen.compute(chosen.model.model_validate(given))
    except ValidationError as faults:
        return in_plain_words(faults)
    except ComputeError as fault:
        return refusal(chosen.fields.get(fault.field, fault.field), fault.message)
    except ArithmeticError:
        return refusal("given", "These numbers are too large or too small to compute with.")
