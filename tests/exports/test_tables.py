"""CSV text, read back by the csv module of the standard library. Format: RFC 4180."""

import csv
from datetime import datetime
from io import StringIO

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.exports.errors import ExportError
from app.exports.tables import Cell, csv_text


def read(text: str) -> list[list[str]]:
    return list(csv.reader(StringIO(text, newline=""), strict=True))


def one(cell: Cell) -> str:
    return read(csv_text(["Head"], [[cell]]))[1][0]


def test_rows_end_with_crlf_texts_are_quoted_and_numbers_bare() -> None:
    text = csv_text(
        ["Student", "Points"], [["Stone, Avery", 4.5], ['The "quick" one', -3], ["two\nlines", None]]
    )
    assert text == '"Student","Points"\r\n"Stone, Avery",4.5\r\n"The ""quick"" one",-3\r\n"two\nlines",\r\n'


def test_a_byte_order_mark_stands_first_when_asked_for() -> None:
    assert csv_text(["A"], [], byte_order_mark=True).encode() == b'\xef\xbb\xbf"A"\r\n'
    assert csv_text(["A"], []).encode() == b'"A"\r\n'


@settings(deadline=None)
@given(st.lists(st.lists(st.text(), min_size=2, max_size=2)))
def test_every_text_is_read_back_after_at_most_an_apostrophe(rows: list[list[str]]) -> None:
    back = read(csv_text(["a", "b"], rows))[1:]
    assert len(back) == len(rows)
    for row, row_back in zip(rows, back, strict=True):
        for cell, cell_back in zip(row, row_back, strict=True):
            assert cell_back in (cell, f"'{cell}")
            assert not cell_back.startswith(("=", "+", "-", "@", "\t", "\r"))


@pytest.mark.parametrize(
    "text",
    [
        "=1+1",
        "+1",
        "-1",
        "@SUM(A1)",
        "\t=1",
        "\rtext",
        "\ntext",
        '=HYPERLINK("http://example.org";"x")',
        "-",
        "--5",
        " =1+1",
        "\ufeff=1+1",
        "\x00=1+1",
        "\u200b@x",
        "＝1+1",
        "＋1",
        "－1",
        "＠x",
    ],
)
def test_text_that_would_run_gets_an_apostrophe(text: str) -> None:
    assert one(text) == f"'{text}"
    assert read(csv_text([text], []))[0][0] == f"'{text}"


@pytest.mark.parametrize(
    "text", ["", "a=1", "1-2", "it's", "'=1", "Stone", "5", " text", "(=1)", "−5", "é@x"]
)
def test_other_text_stays_as_it_is(text: str) -> None:
    assert one(text) == text


@pytest.mark.parametrize(
    ("number", "written"),
    [
        (0, "0"),
        (-5, "-5"),
        (5.0, "5"),
        (-0.0, "0"),
        (-2.5, "-2.5"),
        (0.1, "0.1"),
        (1 / 3, "0.3333333333333333"),
        (1e-7, "1e-07"),
        (1e22, "1e+22"),
        (2**60, "1152921504606846976"),
        (np.float64(1.5), "1.5"),
        (np.float64(2), "2"),
        (np.int64(7), "7"),
    ],
)
def test_numbers_are_written_in_the_fewest_digits_that_read_back(number: float, written: str) -> None:
    assert csv_text(["Head"], [[number]]).splitlines()[1] == written


@settings(deadline=None)
@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_reads_back_as_itself(number: float) -> None:
    assert float(one(number)) == number


@pytest.mark.parametrize("number", [float("nan"), float("inf"), -float("inf")])
def test_a_number_that_is_not_finite_is_refused_by_its_place(number: float) -> None:
    with pytest.raises(ExportError, match=r"rows\[1\]\[0\]"):
        csv_text(["Head"], [[1], [number]])


def test_a_row_of_another_length_is_refused_by_its_place() -> None:
    with pytest.raises(ExportError, match=r"rows\[1\]: has 1 cells; give 2"):
        csv_text(["A", "B"], [[1, 2], [1]])


def test_a_time_is_written_as_day_and_clock() -> None:
    assert csv_text(["At"], [[datetime(2030, 3, 4, 9, 5)]]) == '"At"\r\n2030-03-04 09:05\r\n'  # noqa: DTZ001
