"""Inputs for any calculation, drawn from its own JSON Schema: allowed ones, and ones with one thing wrong."""

import math
from typing import Any

from hypothesis import strategies as st

JUNK = [
    None,
    True,
    "",
    "12",
    "nan",
    "\x00\ud800",
    "x" * 5000,
    -1,
    0,
    -1e-300,
    5e-324,
    1e308,
    10**400,
    math.nan,
    math.inf,
    -math.inf,
    [],
    {},
    [[[]]],
    {"size": 1, "angle_deg": None},
    {"a": {"b": [1, "2"]}},
    list(range(500)),
]


def inputs(schema: dict[str, Any]) -> st.SearchStrategy[Any]:
    """Whatever the schema allows."""
    return _allowed(schema, schema.get("$defs", {}))


def spoiled(schema: dict[str, Any]) -> st.SearchStrategy[Any]:
    """What the schema allows, but with junk put in one place, or one name left out or added."""
    return inputs(schema).flatmap(_spoil)


def _allowed(part: dict[str, Any], parts: dict[str, Any]) -> st.SearchStrategy[Any]:
    if "$ref" in part:
        return _allowed(parts[part["$ref"].removeprefix("#/$defs/")], parts)
    if "anyOf" in part:
        return st.one_of(*(_allowed(choice, parts) for choice in part["anyOf"]))
    if "enum" in part:
        return st.sampled_from(part["enum"])
    return _OF_TYPE[part["type"]](part, parts)


def _object(part: dict[str, Any], parts: dict[str, Any]) -> st.SearchStrategy[Any]:
    fields = {name: _allowed(each, parts) for name, each in part["properties"].items()}
    needed = set(part.get("required", ()))
    return st.fixed_dictionaries(
        {name: each for name, each in fields.items() if name in needed},
        optional={name: each for name, each in fields.items() if name not in needed},
    )


def _array(part: dict[str, Any], parts: dict[str, Any]) -> st.SearchStrategy[Any]:
    shortest = part.get("minItems", 0)
    # Long lists cost time and find nothing that a few entries more than the least do not.
    longest = min(part["maxItems"], shortest + 4)
    return st.lists(_allowed(part["items"], parts), min_size=shortest, max_size=longest)


def _number(part: dict[str, Any], _: dict[str, Any]) -> st.SearchStrategy[Any]:
    least, most = part["minimum"], part["maximum"]
    everyday = st.integers(math.ceil(max(least, -400)), math.floor(min(most, 400)))
    return st.one_of(everyday, st.floats(least, most), st.sampled_from([least, most]))


def _integer(part: dict[str, Any], _: dict[str, Any]) -> st.SearchStrategy[Any]:
    return st.integers(part["minimum"], part["maximum"])


def _text(part: dict[str, Any], _: dict[str, Any]) -> st.SearchStrategy[Any]:
    if part.get("format") == "date":
        return st.dates().map(str)
    written = st.sampled_from(["g", "oz", "C", "F", "P205/65R15 92H", "DOT XY12 ABC 2319", "2319", "317"])
    return written | st.text(max_size=min(part.get("maxLength", 20), 20))


_OF_TYPE = {
    "object": _object,
    "array": _array,
    "number": _number,
    "integer": _integer,
    "string": _text,
    "null": lambda _, __: st.none(),
}


def _spoil(given: Any) -> st.SearchStrategy[Any]:
    junk = st.sampled_from(JUNK)
    if not given or not isinstance(given, (dict, list)):
        return junk
    choices = [junk]
    if isinstance(given, dict):
        names = st.sampled_from(sorted(given))
        choices += [
            names.map(lambda name: {key: given[key] for key in given if key != name}),
            st.text(max_size=8).map(lambda name: given | {name: 1}),
            names.flatmap(lambda name: _spoil(given[name]).map(lambda bad: given | {name: bad})),
        ]
    else:
        places = st.integers(0, len(given) - 1)
        choices += [
            st.just(given * 100),
            places.flatmap(lambda i: _spoil(given[i]).map(lambda bad: [*given[:i], bad, *given[i + 1 :]])),
        ]
    return st.one_of(choices)
