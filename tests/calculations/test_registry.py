"""The one door to the calculations: names, schemas and refusals in plain words."""

import json
import subprocess
import sys

import pytest

from app.calculations import registry
from app.calculations.refusals import field_path
from app.calculations.wire import Answer, Given, Number
from app.compute.errors import UnsolvableError

# Section 2 of the wheel model.
NAMES_OF_THE_MODEL = {
    "two-plane-correction",
    "single-plane-correction",
    "spin",
    "reindex",
    "influence-coefficients",
    "permissible-unbalance",
    "unbalance-force",
    "vibration-order",
    "runout",
    "average-runout",
    "match-mount",
    "separate-tire-and-wheel",
    "force-variation",
    "placement",
    "pair-tires-and-wheels",
    "weights-from-stock",
    "split-weight",
    "tire-size",
    "tire-date",
    "pressure-at-temperature",
    "convert",
    "trial-weight",
    "conicity-and-ply-steer",
    "pressure-warning",
    "clip-weight",
}

PLANES = [
    {"name": "inboard", "z_mm": -70, "radius_mm": 180},
    {"name": "outboard", "z_mm": 70, "radius_mm": 175},
]
MASS = {"mass_g": 10, "radius_mm": 300, "angle_deg": 30, "z_mm": 20}


def refused(name, given):
    answer = registry.answer(name, given)
    assert answer.keys() == {"error"}
    return answer["error"]["field"], answer["error"]["message"]


def test_every_calculation_of_the_model_is_registered_with_one_line_and_a_schema():
    assert set(registry.names()) == NAMES_OF_THE_MODEL
    for name in registry.names():
        assert registry.description(name)
        assert "\n" not in registry.description(name)
        schema = registry.schema(name)
        assert schema["type"] == "object"
        assert schema["additionalProperties"] is False
        json.dumps(schema, allow_nan=False)


def test_two_calculations_can_not_share_a_name():
    with pytest.raises(ValueError, match="two calculations"):

        @registry.calculation("convert", "Another")
        def another(given: Given) -> Answer:
            return given.model_dump()


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("two-plane-corection", "Did you mean two-plane-correction?"),
        ("qqqq", "`heavyspot calc --list`"),
        (None, "as text"),
        (["spin"], "as text"),
    ],
)
def test_an_unknown_name_is_refused_with_a_way_on(name, words):
    field, message = refused(name, {})
    assert field == "name"
    assert words in message


@pytest.mark.parametrize(
    ("given", "field", "message"),
    [
        ([], "given", "Give an object with named values."),
        (None, "given", "Give an object with named values."),
        ({}, "unbalances", "This is missing."),
        ({"unbalances": {}, "planes": PLANES}, "unbalances", "Give a list."),
        ({"unbalances": [3], "planes": PLANES}, "unbalances[0]", "Give an object with named values."),
        ({"unbalances": [MASS] * 201, "planes": PLANES}, "unbalances", "Give a shorter list: 200 at most."),
        (
            {"unbalances": [MASS], "planes": PLANES[:1]},
            "planes",
            "Give a longer list: 2 at least, not 1.",
        ),
        (
            {"unbalances": [MASS, MASS | {"mass_g": -1}], "planes": PLANES},
            "unbalances[1].mass_g",
            "Give a number of at least 0.",
        ),
        (
            {"unbalances": [MASS], "planes": [PLANES[0], PLANES[1] | {"radius_mm": 1e10}]},
            "planes[1].radius_mm",
            "Give a number of at most 1,000,000,000.",
        ),
        (
            {"unbalances": [MASS], "planes": [PLANES[0], PLANES[1] | {"z_mm": "70"}]},
            "planes[1].z_mm",
            "Give a number.",
        ),
        (
            {"unbalances": [MASS], "planes": [PLANES[0], PLANES[1] | {"z_mm": True}]},
            "planes[1].z_mm",
            "Give a number.",
        ),
        (
            {"unbalances": [MASS], "planes": [PLANES[0], PLANES[1] | {"z_mm": float("nan")}]},
            "planes[1].z_mm",
            "Give a finite number.",
        ),
        (
            {"unbalances": [MASS], "planes": [PLANES[0], PLANES[1] | {"name": ""}]},
            "planes[1].name",
            "Give a longer text.",
        ),
        (
            {"unbalances": [MASS | {"mass": 1}], "planes": PLANES},
            "unbalances[0].mass",
            "This name is not used here; take it out or check its spelling.",
        ),
        (
            {"unbalances": [MASS], "planes": [PLANES[0], PLANES[1] | {"z_mm": -70}]},
            "planes[1].z_mm",
            "Give the two planes different z; they stand at the same place.",
        ),
    ],
)
def test_a_wrong_input_is_refused_by_the_place_it_stands_at(given, field, message):
    assert refused("two-plane-correction", given) == (field, message)


@pytest.mark.parametrize(
    ("changed", "field", "message"),
    [
        ({"max_pieces": 2.5}, "max_pieces", "Give a whole number."),
        ({"max_pieces": 7}, "max_pieces", "Give a number of at most 6."),
        ({"stock_g": [5, 10, 5]}, "stock_g", "Give each size once."),
        ({"stock_g": [0]}, "stock_g[0]", "Give a number of at least 0.000000001."),
    ],
)
def test_a_fault_found_by_the_core_is_named_like_one_found_on_the_wire(changed, field, message):
    given = {"target_g": 20, "stock_g": [5, 10], "max_pieces": 3} | changed
    assert refused("weights-from-stock", given) == (field, message)


def test_a_choice_that_is_not_offered_is_refused_with_those_that_are():
    given = {"assemblies": [], "drive_side": "middle", "objective": "comfort"}
    given["assemblies"] = [{"id": each, "r1h_n": 1, "conicity_n": 1} for each in "ABCD"]
    assert refused("placement", given) == ("drive_side", "Give one of: 'left' or 'right'.")


def test_a_long_field_name_is_cut_short():
    field, _ = refused("convert", {"value": 1, "from": "g", "to": "oz", "x" * 10_000: 1})
    assert len(field) == 200


def test_overflow_and_an_unforeseen_fault_of_input_are_refused_too(monkeypatch):
    """No registered calculation overflows within the bounds of the wire, so made-up ones stand in."""
    monkeypatch.setattr(registry, "_calculations", {})

    class AnyGiven(Given):
        value: Number

    @registry.calculation("overflow", "Overflows")
    def overflow(given: AnyGiven) -> Answer:
        return {"value": 10.0 ** (given.value * 1000)}

    @registry.calculation("unsolvable", "Has no answer", fields={"inside": "value"})
    def unsolvable(given: AnyGiven) -> Answer:
        raise UnsolvableError("inside", f"Give another number than {given.value:g}.")

    assert refused("overflow", {"value": 5}) == (
        "given",
        "These numbers are too large or too small to compute with.",
    )
    assert refused("unsolvable", {"value": 5}) == ("value", "Give another number than 5.")


def test_a_fault_without_words_of_its_own_points_to_the_schema(monkeypatch):
    monkeypatch.setattr("app.calculations.refusals.MESSAGES", {})
    assert refused("convert", {"value": "x"})[1].startswith("This value is not allowed here;")


def test_a_place_in_an_input_is_written_as_in_a_program():
    assert field_path(("planes", 1, "z_mm")) == "planes[1].z_mm"
    assert field_path((0, 2, "size")) == "[0][2].size"
    assert field_path(()) == "given"


def test_loading_the_calculations_loads_no_web_and_no_database():
    script = (
        "import sys, app.commands.calc; print(sorted({'flask', 'sqlalchemy', 'scipy'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"
