"""What the scenario's classes say of their fields."""

from typing import Annotated, Literal

import pytest
from pydantic import Field

from app.domain.authored.shape import Kind, field_named, fields_of, plain_data
from app.domain.scenario import PartSheet, Scenario
from app.domain.sheets import AuthoredTable, Drawn, Line, Positive
from app.domain.tasks import ChoiceTask, NumberTask
from app.domain.vehicle_sheets import VehicleSheet
from tests.domain.authored.tables import every_table


class Small(AuthoredTable):
    """A table with one field of several kinds."""

    name: Line
    size: Drawn
    sort: Literal["one", "two"] = "two"
    count: Annotated[int, Field(ge=2, le=9)] | None = None
    weight_g: Positive = 3.0


class Large(AuthoredTable):
    small: Small
    more: Annotated[tuple[Small, ...], Field(max_length=4)] = ()


def test_a_field_says_what_it_takes_and_within_which_bounds() -> None:
    name, size, sort, count, weight = fields_of(Small)
    assert (name.kind, name.required, name.longest) == (Kind.LINE, True, 160)
    assert (size.kind, size.required) == (Kind.DRAWN, True)
    assert (sort.kind, sort.options, sort.default) == (Kind.CHOICE, ("one", "two"), "two")
    assert (count.kind, count.least, count.most, count.nullable) == (Kind.WHOLE, 2, 9, True)
    assert (weight.kind, weight.least, weight.above, weight.default) == (Kind.NUMBER, 0, True, 3.0)


def test_tables_and_lists_of_tables_know_their_classes() -> None:
    small, more = fields_of(Large)
    assert (small.kind, small.table) == (Kind.TABLE, Small)
    assert (more.kind, more.table, more.longest, more.default) == (Kind.TABLES, Small, 4, [])
    assert list(every_table(Large)) == [Large, Small]


def test_entries_that_are_told_apart_by_their_kind_have_a_class_each() -> None:
    tasks = field_named(PartSheet, "tasks")
    assert tasks.table_of({"kind": "number"}) is NumberTask
    assert tasks.table_of({"kind": "choice"}) is ChoiceTask
    assert tasks.table_of({"kind": "riddle"}) is None
    assert {"number", "choice", "text", "bench"} <= set(tasks.kinds)


def test_every_field_of_a_scenario_has_a_kind_of_control() -> None:
    tables = list(every_table(Scenario))
    assert VehicleSheet in tables
    fields = [field for table in tables for field in fields_of(table)]
    assert len(fields) > 100
    assert all(isinstance(field.kind, Kind) for field in fields)


def test_a_field_is_owned_by_the_class_that_declares_it() -> None:
    assert field_named(NumberTask, "title").owner == "TaskSheet"
    assert field_named(NumberTask, "tolerance").owner == "NumberTask"


def test_a_field_that_no_form_can_hold_is_refused_by_name() -> None:
    class Strange(AuthoredTable):
        either: int | str

    with pytest.raises(TypeError, match="no form is known"):
        fields_of(Strange)


def test_plain_data_leaves_out_what_is_not_said() -> None:
    assert plain_data(Small(name="a", size=2.0)) == {"name": "a", "size": 2.0, "sort": "two", "weight_g": 3.0}
