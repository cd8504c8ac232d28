"""The calculations from JSON text to JSON text: what `heavyspot calc` reads and writes."""

import json

import pydantic_core

from app.calculations import registry
from app.calculations.refusals import refusal
from app.calculations.wire import Answer


def answer(name: str, text: bytes) -> Answer:
    """The answer to one calculation whose input is JSON text. Never raises."""
    unknown = registry.unknown_name(name)
    if unknown is not None:
        return unknown
    try:
        given = _decoded(text)
    except ValueError as fault:
        return _not_json(fault)
    return registry.answer(name, given)


def answer_line(line: bytes) -> Answer:
    """The answer to one line, `{"name": ..., "given": {...}}`. Never raises."""
    try:
        request = _decoded(line)
    except ValueError as fault:
        return _not_json(fault)
    if not isinstance(request, dict) or request.keys() != {"name", "given"}:
        return refusal("input", 'Give one object a line: {"name": ..., "given": {...}}.')
    return registry.answer(request["name"], request["given"])


def encoded(answer: Answer) -> bytes:
    """An answer as one line of compact JSON, ASCII only."""
    return json.dumps(answer, allow_nan=False, separators=(",", ":")).encode("ascii") + b"\n"


def _decoded(text: bytes) -> object:
    # Strict where Python's own reader is not: NaN, Infinity, broken UTF-8 and bottomless nesting are refused.
    given: object = pydantic_core.from_json(text, allow_inf_nan=False)
    return given


def _not_json(fault: ValueError) -> Answer:
    return refusal("input", f"Give one JSON object; this is not JSON: {fault}.")
