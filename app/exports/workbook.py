"""Tables as an XLSX workbook: typed numbers and times, heads that stay in sight, and texts that never run."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.exports.tables import Cell


@dataclass(frozen=True)
class TableSheet:
    """One table of a workbook; every row is as long as the heads."""

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def workbook(title: str, tables: Sequence[TableSheet]) -> bytes:
    """An XLSX file with a worksheet for each table; names no author.

    Raises ExportError where there is no table, a name shows nothing or comes twice, a row is not as long as
    the heads, or a number is not finite.
    """
    from app.exports.workbook_file import written  # its library is slow to load, and few ever ask for a file

    return written(title, tables)
