"""Reads the students and classes of a OneRoster 1.2 zip of CSV files (1EdTech, OneRoster CSV Binding 1.2).

Only what a class list needs is read: manifest.csv, and of users.csv, classes.csv and enrollments.csv the
columns named below. Nothing else in the zip is opened, and each file is bounded before it is read.
"""

import csv
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from io import BytesIO, StringIO

from app.services.errors import Refused

VERSION = "1.2"
MOST_ZIP_BYTES = 1_000_000  # what the server takes in one request
MOST_FILE_BYTES = 30_000_000
MOST_FILES = 60

COLUMNS: Mapping[str, tuple[str, ...]] = {
    "manifest": ("propertyName", "value"),
    "users": ("sourcedId", "status", "givenName", "familyName", "identifier"),
    "classes": ("sourcedId", "status", "title", "classCode"),
    "enrollments": ("sourcedId", "status", "classSourcedId", "userSourcedId", "role"),
}
REMOVED = "tobedeleted"
STUDENT = "student"


@dataclass(frozen=True)
class RosterUser:
    """`line` is that in users.csv."""

    roster_id: str
    line: int
    given: str
    family: str
    identifier: str


@dataclass(frozen=True)
class RosterClass:
    """`students`: the roster ids of its students, in the order of the file."""

    roster_id: str
    title: str
    code: str
    students: tuple[str, ...]


@dataclass(frozen=True)
class Roster:
    """unknown: how many enrolments name a user or class that isn't in the zip; they are left out."""

    classes: tuple[RosterClass, ...]
    users: Mapping[str, RosterUser]
    unknown: int


def read_roster(content: bytes, *, field: str = "file") -> Roster:
    """Raises Refused, naming the file in the zip and its line or column where there is one."""
    if len(content) > MOST_ZIP_BYTES:
        raise Refused(
            field, f"This zip is too large: {len(content) // 1000} kB of {MOST_ZIP_BYTES // 1000} kB."
        )
    try:
        with zipfile.ZipFile(BytesIO(content)) as archive:
            return _read(_Files(archive, field))
    except (zipfile.BadZipFile, NotImplementedError, EOFError, OSError, RuntimeError) as error:
        raise Refused(field, "This isn't a zip file, or it is damaged or locked. Export it again.") from error


def _read(files: "_Files") -> Roster:
    manifest = {row["propertyName"]: row["value"] for _, row in files.rows("manifest")}
    files.require_version(manifest)
    users = {
        row["sourcedId"]: RosterUser(
            row["sourcedId"], line, row["givenName"], row["familyName"], row["identifier"]
        )
        for line, row in files.rows("users")
        if row["status"] != REMOVED
    }
    named = {row["sourcedId"]: row for _, row in files.rows("classes") if row["status"] != REMOVED}
    students: dict[str, dict[str, None]] = {each: {} for each in named}
    unknown = 0
    for _, row in files.rows("enrollments"):
        if row["status"] == REMOVED or row["role"] != STUDENT:
            continue
        if row["classSourcedId"] in named and row["userSourcedId"] in users:
            students[row["classSourcedId"]][row["userSourcedId"]] = None
        else:
            unknown += 1
    return Roster(
        tuple(
            RosterClass(each, row["title"], row["classCode"], tuple(students[each]))
            for each, row in named.items()
        ),
        users,
        unknown,
    )


class _Files:
    """The CSV files of the zip, each read once, line by line."""

    def __init__(self, archive: zipfile.ZipFile, field: str) -> None:
        self.archive = archive
        self.field = field
        if len(archive.infolist()) > MOST_FILES:
            raise Refused(field, f"This zip holds more than {MOST_FILES} files. A roster has at most 20.")

    def require_version(self, manifest: Mapping[str, str]) -> None:
        version = manifest.get("oneroster.version", "")
        if version != VERSION:
            raise Refused(
                self.field,
                f"manifest.csv says OneRoster {version or 'without a version'}; export it as {VERSION}.",
            )
        for name in ("users", "classes", "enrollments"):
            how = manifest.get(f"file.{name}", "absent")
            if how != "bulk":
                raise Refused(
                    self.field, f"manifest.csv says that {name}.csv is {how}; export it whole, as bulk."
                )

    def rows(self, name: str) -> Iterator[tuple[int, dict[str, str]]]:
        """Line number and the wanted columns of each row. Raises Refused."""
        file = f"{name}.csv"
        reader = csv.reader(StringIO(self._text(file), newline=""), strict=True)
        line = 1
        try:
            heads = [head.strip() for head in next(reader, [])]
            missing = [column for column in COLUMNS[name] if column not in heads]
            if missing:
                raise Refused(self.field, f"{file} has no column {missing[0]} in its first line.")
            places = {column: heads.index(column) for column in COLUMNS[name]}
            for cells in reader:
                line, first = reader.line_num, line + 1
                if len(cells) < len(heads) and any(cells):
                    raise Refused(self.field, f"{file}, line {first}: {len(cells)} columns of {len(heads)}.")
                if cells:
                    yield first, {column: cells[place].strip() for column, place in places.items()}
        except csv.Error as error:
            raise Refused(self.field, f"{file}, line {line + 1}: it can't be read ({error}).") from error

    def _text(self, file: str) -> str:
        try:
            with self.archive.open(file) as opened:
                content = opened.read(MOST_FILE_BYTES + 1)
        except KeyError as error:
            raise Refused(self.field, f"There is no {file} in this zip. Export the roster again.") from error
        if len(content) > MOST_FILE_BYTES:
            raise Refused(
                self.field, f"{file} is larger than {MOST_FILE_BYTES // 1_000_000} MB when it is unpacked."
            )
        try:
            text = content.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise Refused(self.field, f"{file} isn't UTF-8, which the standard asks for.") from error
        if "\0" in text:
            raise Refused(self.field, f"{file} holds a NUL, so it is no text. Export the roster again.")
        return text
