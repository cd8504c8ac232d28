"""Writes an XLSX workbook. The one place that knows the spreadsheet library.

A text cell is written as text, so a spreadsheet shows "=1+1" as it was typed and does not compute it; the
mark "quote prefix" keeps it so when the cell is edited.
"""

from collections.abc import Sequence
from datetime import datetime
from io import BytesIO

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from app.exports.errors import ExportError, require_visible
from app.exports.plain_text import writable
from app.exports.tables import Cell, number_text
from app.exports.workbook import TableSheet

_NARROWEST, _WIDEST = 8, 60
_LONGEST_CELL = 32_767  # what the format takes
_NOT_IN_A_NAME = str.maketrans("", "", "[]:*?/\\'")
_LONGEST_NAME = 31
_TIME_FORMAT = "yyyy-mm-dd hh:mm"


def written(title: str, tables: Sequence[TableSheet]) -> bytes:
    """See `app.exports.workbook.workbook`."""
    if not tables:
        raise ExportError("tables", "there is nothing to write; give at least one table")
    book = Workbook()
    book.remove(book.active)
    book.properties.title, book.properties.creator = writable(title), ""
    for place, table in enumerate(tables):
        name = table.name.translate(_NOT_IN_A_NAME)[:_LONGEST_NAME]
        require_visible(f"tables[{place}].name", name, "give the table a name")
        if name.casefold() in (each.title.casefold() for each in book.worksheets):
            raise ExportError(f"tables[{place}].name", "comes twice; give each table its own name")
        _fill(book.create_sheet(name), f"tables[{place}]", table)
    content = BytesIO()
    book.save(content)
    return content.getvalue()


def _fill(sheet: Worksheet, field: str, table: TableSheet) -> None:
    for number, row in enumerate(table.rows):
        if len(row) != len(table.heads):
            raise ExportError(f"{field}.rows[{number}]", f"has {len(row)} cells; give {len(table.heads)}")
    for column, head in enumerate(table.heads, 1):
        _write(sheet, 1, column, f"{field}.heads", head)
        sheet.cell(1, column).font = Font(bold=True)
        cells = [row[column - 1] for row in table.rows]
        sheet.column_dimensions[get_column_letter(column)].width = _width(head, cells)
    for number, row in enumerate(table.rows):
        for column, cell in enumerate(row, 1):
            _write(sheet, number + 2, column, f"{field}.rows[{number}][{column - 1}]", cell)
    sheet.freeze_panes = "B2"
    sheet.auto_filter.ref = f"A1:{get_column_letter(len(table.heads))}{len(table.rows) + 1}"
    sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation, sheet.page_setup.fitToHeight = "landscape", 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True


def _write(sheet: Worksheet, row: int, column: int, field: str, value: Cell) -> None:
    if value is None:
        return
    cell = sheet.cell(row, column)
    match value:
        case str():
            cell.value = writable(value)[:_LONGEST_CELL]
            cell.data_type = "s"
            cell.quotePrefix = True
        case datetime():
            cell.value = value
            cell.number_format = _TIME_FORMAT
        case _:
            number_text(field, value)  # refuses what is not finite
            cell.value = float(value) if isinstance(value, float) else int(value)
    cell.alignment = Alignment(vertical="top", wrap_text=isinstance(value, str))


def _width(head: str, cells: Sequence[Cell]) -> float:
    longest = max((len(line) for cell in (head, *cells) for line in _shown(cell).split("\n")), default=0)
    return min(max(longest + 2, _NARROWEST), _WIDEST)


def _shown(cell: Cell) -> str:
    return f"{cell:%Y-%m-%d %H:%M}" if isinstance(cell, datetime) else "" if cell is None else str(cell)
