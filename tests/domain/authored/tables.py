"""All the classes that a scenario is written with."""

from collections.abc import Iterator

from app.domain.authored.shape import Table, fields_of


def every_table(table: Table) -> Iterator[Table]:
    """This class and each that can stand below it, once."""
    waiting, seen = [table], set()
    while waiting:
        each = waiting.pop(0)
        if each in seen:
            continue
        seen.add(each)
        yield each
        waiting += [below for field in fields_of(each) for below in field.tables]
