"""What can go wrong in the store.

StoreError
 ├── Conflict           a value that must be unique is there already
 ├── BrokenReference    a row points to a row that doesn't exist, or a value its column forbids
 ├── Unavailable        the database is busy, full, or can't be reached: nothing was saved
 ├── ReadOnly           something was to be written in a reading transaction
 ├── Immutable          a frozen row was to be changed or deleted
 └── NotADatabase       a file that can't be used as this program's database
"""


# ruff: noqa: N818 the names say what happened, and read well where they are caught


class StoreError(Exception):
    """Base of every error the store raises."""


class Conflict(StoreError):
    """A unique value is taken. `table` and `columns` say which, whatever the database calls it."""

    def __init__(self, table: str, columns: tuple[str, ...]) -> None:
        super().__init__(f"{table}: {', '.join(columns)} must be unique")
        self.table = table
        self.columns = columns


class BrokenReference(StoreError):
    pass


class Unavailable(StoreError):
    pass


class ReadOnly(StoreError):
    pass


class Immutable(StoreError):
    pass


class NotADatabase(StoreError):
    pass
