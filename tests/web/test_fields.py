"""The fields that refuse. The grammar of numbers is our own, no source; Unicode names the signs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from werkzeug.datastructures import MultiDict
from wtforms import Form
from wtforms.widgets import html_params

from app.web.fields import (
    FiniteField,
    LongTextField,
    MultiCheckboxField,
    PassPhraseField,
    TextField,
    TickField,
    radio,
)


class Example(Form):
    mass = FiniteField("Mass", least=-100, most=500, example="15 or 17.5", missing="Enter the mass.")
    name = TextField("Name", longest=10, missing="Enter the name.")
    remark = LongTextField("Remark", longest=30)
    units = radio("Units", (("us", "US"), ("metric", "Metric")), missing="Choose the units.")
    ticks = MultiCheckboxField("Ticks")


def filled(**typed):
    good = {"mass": "15", "name": "Ann", "units": "us"}
    form = Example(MultiDict(good | typed))
    form.ticks.offer((("a", "A"), ("b", "B")))
    return form


@pytest.mark.parametrize(
    ("typed", "value"),
    [("15", 15.0), (" 17.5 ", 17.5), ("-.5", -0.5), ("+1e2", 100.0), ("−3", -3.0), ("0", 0.0), ("5.", 5.0)],
)
def test_a_plain_decimal_number_is_taken(typed, value):
    form = filled(mass=typed)
    assert form.validate(), form.errors
    assert form.mass.data == value


@pytest.mark.parametrize(
    "typed",
    [
        *(
            "nan",
            "NaN",
            "inf",
            "-inf",
            "Infinity",
            "1e999",
            "1_000",
            "0x10",
            "٣",
            "１５",
            "12,5",
            "1 2",
            "--1",
            "e5",
        ),
        *("9**9**9", "1e", ".", "5 g", "1" * 400, "1e0000"),
    ],
)
def test_anything_else_is_refused_and_shown_again_as_typed(typed):
    form = filled(mass=typed)
    assert not form.validate()
    assert form.mass.errors == ["Enter a number, like 15 or 17.5."]
    assert form.mass.data is None
    assert html_params(value=typed) in form.mass()


@pytest.mark.parametrize("typed", ["-100.5", "501", "1e99"])
def test_a_number_out_of_range_names_the_range(typed):
    form = filled(mass=typed)
    assert not form.validate()
    assert form.mass.errors == ["Enter a number from -100 to 500."]


@given(st.text(max_size=30))
def test_whatever_is_typed_the_number_is_finite_and_in_range_or_refused(typed):
    form = filled(mass=typed)
    assert form.validate() == (form.mass.data is not None)
    assert form.mass.data is None or -100 <= form.mass.data <= 500


def test_a_missing_number_says_what_to_enter():
    form = filled(mass="  ")
    assert not form.validate()
    assert form.mass.errors == ["Enter the mass."]


def test_text_is_trimmed_and_composed():
    form = filled(name="  Ne\u0301e  Ka ")
    assert form.validate(), form.errors
    assert form.name.data == "Née Ka"


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "Enter the name."),
        (" \t ", "Enter the name."),
        ("a\x00b", "U+0000"),
        ("a\u202eb", "U+202E"),
        ("a\u2066b", "U+2066"),
        ("a\ufeffb", "U+FEFF"),
        ("\x1b[31m", "U+001B"),
        ("12345678901", "it has 11 now"),
    ],
)
def test_text_that_cannot_be_taken_says_what_to_do(typed, says):
    form = filled(name=typed)
    assert not form.validate()
    assert says in form.name.errors[0]


def test_a_sign_that_nobody_sees_is_shown_to_be_taken_out():
    form = filled(name="a\u202eb\x00")
    form.validate()
    assert 'value="a\ufffdb\ufffd"' in form.name()
    assert not filled(name="a\ufffdb").validate()


@pytest.mark.parametrize("field", ["mass", "name", "remark"])
def test_what_was_typed_is_shown_again_without_a_sign_that_no_page_may_hold(field):
    form = filled(**{field: "7\x00\x1b\ufffe\ud800"})
    assert not form.validate()
    assert "7\ufffd\ufffd\ufffd\ufffd" in form[field]()


def test_long_text_keeps_its_lines():
    form = filled(remark="one  \r\ntwo\rthree\n\n")
    assert form.validate(), form.errors
    assert form.remark.data == "one\ntwo\nthree"


def test_a_choice_that_is_not_offered_is_refused():
    form = filled(units="furlongs")
    assert not form.validate()
    assert form.units.errors == ["Choose the units."]


def test_a_tick_that_is_not_offered_is_refused():
    form = filled(ticks="c")
    assert not form.validate()
    assert "changed" in form.ticks.errors[0]
    assert filled(ticks="b").validate()


def test_a_pass_phrase_is_kept_as_typed_and_never_written_back():
    class WithPhrase(Form):
        phrase = PassPhraseField("Phrase", missing="Type it.")

    form = WithPhrase(MultiDict({"phrase": "  two  spaces "}))
    assert form.validate()
    assert form.phrase.data == "  two  spaces "
    assert "two" not in str(form.phrase())
    assert not WithPhrase(MultiDict({"phrase": "x" * 201})).validate()


def test_a_box_is_shown_with_its_own_value_whatever_was_sent():
    class Ticked(Form):
        tick = TickField("Tick")

    form = Ticked(MultiDict({"tick": "\0<b>"}))
    assert form.tick.data is True
    assert form.tick() == '<input checked id="tick" name="tick" type="checkbox" value="y">'
