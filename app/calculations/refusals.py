"""The one place where a refused input is put into plain words."""

from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

LONGEST_FIELD = 200

# By the validator's own name for the fault; {…} are the values it reports with it.
MESSAGES = {
    "missing": "This is missing.",
    "extra_forbidden": "This name is not used here; take it out or check its spelling.",
    "model_type": "Give an object with named values.",
    "dict_type": "Give an object with named values.",
    "list_type": "Give a list.",
    "too_short": "Give a longer list: {min_length} at least, not {actual_length}.",
    "too_long": "Give a shorter list: {max_length} at most.",
    "float_type": "Give a number.",
    "finite_number": "Give a finite number.",
    "int_type": "Give a whole number.",
    "int_from_float": "Give a whole number.",
    "greater_than": "Give a number above {gt}.",
    "greater_than_equal": "Give a number of at least {ge}.",
    "less_than": "Give a number below {lt}.",
    "less_than_equal": "Give a number of at most {le}.",
    "bool_type": "Give true or false.",
    "string_type": "Give a text.",
    "string_too_short": "Give a longer text.",
    "string_too_long": "Give a shorter text: {max_length} characters at most.",
    "literal_error": "Give one of: {expected}.",
    "value_error": "{error}",
}


def refusal(field: str, message: str) -> dict[str, Any]:
    """The error object of the wire."""
    return {"error": {"field": field[:LONGEST_FIELD], "message": message}}


def in_plain_words(faults: ValidationError) -> dict[str, Any]:
    """The first fault of an input as the error object of the wire."""
    fault = faults.errors(include_url=False, include_input=False)[0]
    return refusal(field_path(fault["loc"]), _message(fault))


def field_path(location: tuple[int | str, ...]) -> str:
    """A place in an input as it is written: ("planes", 1, "z_mm") is planes[1].z_mm; the whole is "given"."""
    path = ""
    for step in location:
        if isinstance(step, int):
            path += f"[{step}]"
        else:
            path += f".{step}" if path else step
    return path or "given"


def _message(fault: ErrorDetails) -> str:
    if fault["type"] not in MESSAGES:
        return "This value is not allowed here; the calculation's schema says what is."
    limits = {name: _written(value) for name, value in fault.get("ctx", {}).items()}
    return MESSAGES[fault["type"]].format(**limits)


def _written(value: object) -> str:
    """A limit as people write it: 1,000,000,000 and 0.000000001, not 1e+09 and 1e-09."""
    if not isinstance(value, float):
        return str(value)
    return f"{value:,.9f}".rstrip("0").rstrip(".")
