"""One scenario as one file, to keep or to hand on: its TOML text, or with pictures a zip archive of both.

    scenario.toml           the scenario
    images.toml             [NAME] alt = "..." for each picture
    images/NAME.png         or .jpg, .webp

What comes in is judged before it is used: its size, how far it unpacks, how many members it has and what they
are called; then every picture and every field.
"""

import io
import stat
import tomllib
import zipfile
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import PurePosixPath

import tomlkit

from app.domain.authored.entries import Document
from app.domain.authored.markup import markup_faults
from app.domain.faults import Fault
from app.domain.scenario import ScenarioFaults
from app.library import FILE_NAME, as_text, checked_scenario, content_of, document_of
from app.library.images import (
    ENDINGS,
    NamedPicture,
    UnusableImage,
    fault_in_alt,
    fault_in_name,
    picture_of,
)

LARGEST_FILE = 5 * 1024 * 1024
LARGEST_UNPACKED = 20 * 1024 * 1024
MOST_PICTURES = 20
MOST_TIMES_LARGER = 200
"""Text packs to a tenth; what packs to less than a two-hundredth was made to."""
IMAGES_FILE, IMAGES_FOLDER = "images.toml", "images"
_ZIP = b"PK\x03\x04"
_EARLIEST = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True)
class Exchanged:
    """A scenario with its pictures, wholly checked."""

    document: Document
    pictures: tuple[NamedPicture, ...] = ()


@dataclass(frozen=True)
class ScenarioFile:
    content: bytes
    media_type: str
    ending: str


def exported(document: Document, pictures: Sequence[NamedPicture]) -> ScenarioFile:
    """A scenario whose shape is good as one file; the same scenario always gives the same bytes."""
    text = content_of(document).encode()
    if not pictures:
        return ScenarioFile(text, "application/toml", "toml")
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        _add(archive, FILE_NAME, text)
        _add(
            archive, IMAGES_FILE, tomlkit.dumps({each.name: {"alt": each.alt} for each in pictures}).encode()
        )
        for each in pictures:
            ending = ENDINGS[each.picture.media_type]
            _add(archive, f"{IMAGES_FOLDER}/{each.name}.{ending}", each.picture.content)
    return ScenarioFile(buffer.getvalue(), "application/zip", "zip")


def _add(archive: zipfile.ZipFile, name: str, content: bytes) -> None:
    member = zipfile.ZipInfo(name, _EARLIEST)
    member.compress_type = zipfile.ZIP_DEFLATED
    archive.writestr(member, content)


def imported(content: bytes) -> Exchanged:
    """The scenario in a file that somebody sends. Raises ScenarioFaults with the reasons."""
    if len(content) > LARGEST_FILE:
        raise _refused("file", f"is larger than {LARGEST_FILE // 1024 // 1024} MB")
    if not content.startswith(_ZIP):
        return Exchanged(_document(content))
    members = _unpacked(content)
    if FILE_NAME not in members:
        raise _refused("archive", f"holds no {FILE_NAME}")
    return Exchanged(_document(members[FILE_NAME]), _pictures(members))


def _refused(place: str, message: str) -> ScenarioFaults:
    return ScenarioFaults([Fault(place, message)])


def _document(content: bytes) -> Document:
    text = as_text(content)
    checked_scenario(text)
    document = document_of(text)
    if faults := markup_faults(document):
        raise ScenarioFaults(list(faults))
    return document


def _unpacked(content: bytes) -> dict[str, bytes]:
    """Every member by its name. Raises ScenarioFaults."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            _refuse_members(archive.infolist())
            return _read(archive)
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError) as error:
        if isinstance(error, ScenarioFaults):
            raise
        raise _refused("archive", "is damaged; pack it again") from error


def _refuse_members(members: Sequence[zipfile.ZipInfo]) -> None:
    if len(members) > MOST_PICTURES + 2:
        raise _refused("archive", f"holds {len(members)} members; at most {MOST_PICTURES + 2} are allowed")
    names = [member.filename for member in members]
    for name in names:
        if names.count(name) > 1:
            raise _refused(f"archive: {name[:60]}", "stands there twice")
    for member in members:
        _refuse_member(member)
    if sum(member.file_size for member in members) > LARGEST_UNPACKED:
        raise _refused("archive", f"unpacks to more than {LARGEST_UNPACKED // 1024 // 1024} MB")


def _refuse_member(member: zipfile.ZipInfo) -> None:
    place = f"archive: {member.filename[:60]}"
    if not _is_allowed(member.filename):
        raise _refused(place, f"isn’t {FILE_NAME}, {IMAGES_FILE} or {IMAGES_FOLDER}/NAME.png, .jpg or .webp")
    if stat.S_IFMT(member.external_attr >> 16) not in (0, stat.S_IFREG):
        raise _refused(place, "is no ordinary file")
    if member.flag_bits & 0x1:
        raise _refused(place, "is encrypted; pack it without a password")
    if member.file_size > MOST_TIMES_LARGER * max(member.compress_size, 1024):
        raise _refused(place, f"unpacks to more than {MOST_TIMES_LARGER} times its size")


def _is_allowed(name: str) -> bool:
    if name in (FILE_NAME, IMAGES_FILE):
        return True
    path = PurePosixPath(name)
    ordinary = name == f"{IMAGES_FOLDER}/{path.name}" and path.suffix[1:] in ENDINGS.values()
    return ordinary and fault_in_name(path.stem) is None


def _read(archive: zipfile.ZipFile) -> dict[str, bytes]:
    """Read no more than allowed, whatever the members say of their size."""
    left, members = LARGEST_UNPACKED, {}
    for member in archive.infolist():
        with archive.open(member) as stream:
            content = stream.read(left + 1)
        left -= len(content)
        if left < 0:
            raise _refused("archive", f"unpacks to more than {LARGEST_UNPACKED // 1024 // 1024} MB")
        members[member.filename] = content
    return members


def _pictures(members: dict[str, bytes]) -> tuple[NamedPicture, ...]:
    alts = _alternative_texts(members.get(IMAGES_FILE, b""))
    pictures = []
    for name, content in members.items():
        if not name.startswith(f"{IMAGES_FOLDER}/"):
            continue
        called = PurePosixPath(name).stem
        alt = alts.get(called, "")
        if fault := fault_in_alt(alt):
            raise _refused(f"{IMAGES_FILE}: {called}", f"has no good alternative text. {fault}")
        try:
            pictures.append(NamedPicture(called, alt, picture_of(content)))
        except UnusableImage as error:
            raise _refused(f"archive: {name}", str(error)) from error
    return tuple(pictures)


def _alternative_texts(content: bytes) -> dict[str, str]:
    try:
        tables = tomllib.loads(as_text(content))
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise _refused(IMAGES_FILE, "is not TOML") from error
    return {
        name: table["alt"]
        for name, table in tables.items()
        if isinstance(table, dict) and isinstance(table.get("alt"), str)
    }
