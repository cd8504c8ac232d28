"""Reading a tire's sidewall on the wire: names, fields, nulls and refusals."""

import json

import pytest

from app.calculations.registry import answer, schema
from tests.published.cases import case as published


def test_tire_size_answers_every_field_of_the_designation() -> None:
    found = answer("tire-size", {"designation": "P205/65R15 92H"})

    assert found == {
        "service": "P",
        "section_mm": 205,
        "aspect": published("size-P205-65R15")["expect"]["aspect"],
        "construction": "R",
        "rim_in": 15,
        "load_index": 92,
        "load_kg": published("load-index-table")["expect"]["kg"]["92"],
        "speed_symbol": "H",
        "speed_kmh": published("speed-symbol-table")["expect"]["km_h"]["H"],
        "extra_load": False,
        "section_height_mm": pytest.approx(133.25),
        "overall_diameter_mm": pytest.approx(647.5),
        "rolling_circumference_mm": pytest.approx(1974.9, abs=0.1),
        "revs_per_km": pytest.approx(506.4, abs=0.1),
    }


def test_absent_parts_of_a_designation_are_null() -> None:
    found = answer("tire-size", {"designation": "LT245/75D16"})

    nulls = [name for name, value in found.items() if value is None]
    assert nulls == [
        "load_index",
        "load_kg",
        "speed_symbol",
        "speed_kmh",
        "rolling_circumference_mm",
        "revs_per_km",
    ]


@pytest.mark.parametrize("given", [{"tin": "DOT 1AB CD2 0109"}, {"date_code": "0109", "tin": None}])
def test_tire_date_answers_the_published_week(given: dict[str, str | None]) -> None:
    case = published("tin-date-0109")

    found = answer("tire-date", given | {"service_date": "2024-01-03"})

    assert found == {
        "week": 1,
        "year": 2009,
        "built_from": case["expect"]["week_start"],
        "built_to": case["expect"]["week_end"],
        "age_years": 14,
        "decade_sure": True,
    }
    assert json.loads(json.dumps(found)) == found


def test_the_day_of_the_anniversary_makes_a_tire_a_year_older() -> None:
    found = answer("tire-date", {"date_code": "0109", "service_date": "2024-01-04"})

    assert found["age_years"] == 15


def test_the_examples_of_the_schema_are_answered() -> None:
    fields = schema("tire-date")["properties"]
    (service_date,) = fields["service_date"]["examples"]
    for name in ("tin", "date_code"):
        for example in fields[name]["anyOf"][0]["examples"]:
            assert "error" not in answer("tire-date", {name: example, "service_date": service_date})
    for example in schema("tire-size")["properties"]["designation"]["examples"]:
        assert "error" not in answer("tire-size", {"designation": example})


@pytest.mark.parametrize(
    ("name", "given", "field"),
    [
        ("tire-size", {"designation": 205}, "designation"),
        ("tire-size", {"designation": "P205/65R99"}, "designation"),
        ("tire-size", {"designation": "2" * 5000}, "designation"),
        ("tire-date", {"service_date": "2024-01-04"}, "tin"),
        ("tire-date", {"tin": "0109", "date_code": "0109", "service_date": "2024-01-04"}, "tin"),
        ("tire-date", {"tin": "XXX ABCDEF", "service_date": "2024-01-04"}, "tin"),
        ("tire-date", {"tin": "5" * 5000, "service_date": "2024-01-04"}, "tin"),
        ("tire-date", {"tin": "XXX ABCDEF 5324", "service_date": "2025-01-04"}, "tin"),
        ("tire-date", {"date_code": "5324", "service_date": "2025-01-04"}, "date_code"),
        ("tire-date", {"date_code": "0124", "service_date": "2023-01-04"}, "date_code"),
        ("tire-date", {"date_code": 124, "service_date": "2023-01-04"}, "date_code"),
        ("tire-date", {"date_code": "01 24", "service_date": "2024-01-04"}, "date_code"),
        ("tire-date", {"date_code": "0109"}, "service_date"),
        ("tire-date", {"date_code": "0109", "service_date": "2024-02-30"}, "service_date"),
        ("tire-date", {"date_code": "0109", "service_date": "20240104"}, "service_date"),
        ("tire-date", {"date_code": "0109", "service_date": 20240104}, "service_date"),
    ],
)
def test_input_that_cannot_be_used_is_refused_by_the_name_on_the_wire(
    name: str, given: dict[str, object], field: str
) -> None:
    refused = answer(name, given)["error"]

    assert refused["field"] == field
    assert refused["message"].startswith(("Give ", "Date code ", "This ", "The "))
