"""Prints the table; ends with 1 when a row is over its limit. The long ones run only when they are named."""

import sys
from functools import partial

from rich.console import Console
from rich.table import Table

from tests.benchmarks import (
    bench_action,
    class_at_work,
    gradebook,
    lab_page,
    large_school,
    packets,
    regrade,
    regrade_service,
    start,
)

MEASUREMENTS = {
    "lab-page": lab_page.rows,
    "bench-action": bench_action.rows,
    "gradebook": gradebook.rows,
    "regrade": regrade.rows,
    "packets": packets.rows,
    "start": start.rows,
}
LONG = {
    "regrade-service": regrade_service.rows,
    "class-at-work": class_at_work.rows,
    "class-at-work-five-minutes": partial(class_at_work.rows, 300),
    "large-school": large_school.rows,
}


def main(chosen: list[str]) -> int:
    known = MEASUREMENTS | LONG
    unknown = set(chosen) - set(known)
    if unknown:
        sys.exit(f"There is no {', '.join(sorted(unknown))}. Choose from {', '.join(known)}.")
    table = Table("what", "measured", "limit", "", "how")
    rows = [row for name in chosen or MEASUREMENTS for row in known[name]()]
    for row in rows:
        measured, limit = (f"{value:.3g} {row.unit}" for value in (row.measured, row.limit))
        table.add_row(row.what, measured, limit, "within" if row.holds else "OVER", row.note)
    Console().print(table)
    return 0 if all(row.holds for row in rows) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
