"""Prints the table; ends with 1 when a row is over its limit."""

import sys

from rich.console import Console
from rich.table import Table

from tests.benchmarks import bench_action, gradebook, lab_page, packets, regrade, start

MEASUREMENTS = {
    "lab-page": lab_page.rows,
    "bench-action": bench_action.rows,
    "gradebook": gradebook.rows,
    "regrade": regrade.rows,
    "packets": packets.rows,
    "start": start.rows,
}


def main(chosen: list[str]) -> int:
    unknown = set(chosen) - set(MEASUREMENTS)
    if unknown:
        sys.exit(f"There is no {', '.join(sorted(unknown))}. Choose from {', '.join(MEASUREMENTS)}.")
    table = Table("what", "measured", "limit", "", "how")
    rows = [row for name in chosen or MEASUREMENTS for row in MEASUREMENTS[name]()]
    for row in rows:
        measured, limit = (f"{value:.3g} {row.unit}" for value in (row.measured, row.limit))
        table.add_row(row.what, measured, limit, "within" if row.holds else "OVER", row.note)
    Console().print(table)
    return 0 if all(row.holds for row in rows) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
