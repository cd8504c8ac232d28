"""Workbooks, read back by openpyxl's reader and, where it matters what stands in the file, as XML."""

from datetime import datetime
from io import BytesIO
from zipfile import ZipFile

import pytest
from openpyxl import load_workbook

from app.exports.errors import ExportError
from app.exports.workbook import TableSheet, workbook

FORMULAS = ["=1+1", '=HYPERLINK("http://example.org")', "+1", "-2", "@sum(1)", "\t=1", "＝1+1", "  =1"]
"""After the page "CSV Injection" of OWASP, from memory."""


def table(*rows: tuple, heads: tuple[str, ...] = ("Student", "Points")) -> TableSheet:
    return TableSheet("Points", heads, rows)


def opened(*rows: tuple, heads: tuple[str, ...] = ("Student", "Points")):
    return load_workbook(BytesIO(workbook("Points", [table(*rows, heads=heads)])))["Points"]


def test_every_cell_is_read_back_as_the_kind_of_value_it_was():
    at = datetime(2030, 3, 4, 9, 5)  # noqa: DTZ001 (a local time, as the head says)
    sheet = opened(("Stone, Avery", 4.5, at, None), ("Zwei\nZeilen", -3, at, 7), heads=("A", "B", "C", "D"))
    assert [[cell.value for cell in row] for row in sheet.iter_rows()] == [
        ["A", "B", "C", "D"],
        ["Stone, Avery", 4.5, at, None],
        ["Zwei\nZeilen", -3, at, 7],
    ]
    assert [cell.data_type for cell in sheet[2]][:3] == ["s", "n", "d"]
    assert sheet["C2"].number_format == "yyyy-mm-dd hh:mm"


@pytest.mark.parametrize("text", FORMULAS)
def test_a_text_that_looks_like_a_formula_stays_a_text(text):
    cell = opened((text, 1))["A2"]
    assert (cell.data_type, cell.quotePrefix) == ("s", True)
    assert cell.value == text.replace("\t", "    ")


def test_no_formula_stands_in_the_file():
    content = workbook("Points", [table(*((text, 1) for text in FORMULAS))])
    with ZipFile(BytesIO(content)) as parts:
        assert b"<f>" not in b"".join(parts.read(name) for name in parts.namelist())


def test_heads_and_first_column_stay_in_sight_and_columns_fit_their_texts():
    sheet = opened(("A name of thirty characters now", 1), ("x" * 500, 2))
    assert sheet.freeze_panes == "B2"
    assert sheet.auto_filter.ref == "A1:B3"
    assert sheet.column_dimensions["A"].width == 60
    assert 8 <= sheet.column_dimensions["B"].width < 12
    assert sheet["A1"].font.bold


def test_the_file_names_no_author():
    properties = load_workbook(BytesIO(workbook("Points of Auto 2", [table()]))).properties
    assert (properties.title, properties.creator or "", properties.lastModifiedBy) == (
        "Points of Auto 2",
        "",
        None,
    )


def test_signs_that_the_format_has_no_place_for_are_replaced():
    assert (
        opened(("nul\x00 bell\x07 \ud800 \ufffe end", 1))["A2"].value
        == "nul\ufffd bell\ufffd \ufffd \ufffd end"
    )


@pytest.mark.parametrize(
    ("tables", "field"),
    [
        ([], "tables"),
        ([TableSheet("[]", ("A",), ())], "tables[0].name"),
        ([table(), table()], "tables[1].name"),
        ([table(("only one",))], "tables[0].rows[0]"),
        ([table(("a", float("nan")))], "tables[0].rows[0][1]"),
    ],
)
def test_what_cannot_be_written_is_refused_by_its_field(tables, field):
    with pytest.raises(ExportError) as refused:
        workbook("Points", tables)
    assert refused.value.field == field
