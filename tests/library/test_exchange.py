"""One scenario as one file: out and in again, and files made to hurt."""

import io
import stat
import time
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.domain.authored.entries import with_entry
from app.domain.scenario import ScenarioFaults, parse
from app.library import content_of, document_of
from app.library.exchange import Exchanged, exported, imported
from app.library.images import NamedPicture, picture_of
from tests.domain.writing import library, shipped_text
from tests.library.pictures import picture

TEXT = shipped_text("two-plane-balance")
DOCUMENT = document_of(TEXT)
PICTURES = (
    NamedPicture("a-cone", "A cone in a bore", picture_of(picture("PNG"))),
    NamedPicture("a-clip", "A clip on a lip", picture_of(picture("JPEG"))),
)
MOST_SECONDS = 1.0
"""Of processor time of this process, so that a busy machine fails nothing."""


@pytest.mark.parametrize("scenario_id", library())
def test_a_shipped_scenario_is_the_same_after_it_was_written_again(scenario_id: str) -> None:
    text = shipped_text(scenario_id)
    assert parse(content_of(document_of(text))) == parse(text)


def test_without_pictures_the_file_is_toml_and_reads_back_the_same() -> None:
    file = exported(DOCUMENT, ())
    assert (file.media_type, file.ending) == ("application/toml", "toml")
    assert imported(file.content) == Exchanged(DOCUMENT)


def test_with_pictures_it_is_one_archive_and_reads_back_the_same() -> None:
    file = exported(DOCUMENT, PICTURES)
    assert file.ending == "zip"
    read = imported(file.content)
    assert read.document == DOCUMENT
    assert [(each.name, each.alt) for each in read.pictures] == [(each.name, each.alt) for each in PICTURES]


def test_the_same_scenario_gives_the_same_bytes() -> None:
    assert exported(DOCUMENT, PICTURES) == exported(DOCUMENT, PICTURES)


def test_a_mark_at_the_beginning_and_lines_of_other_systems_are_taken() -> None:
    content = b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode()
    assert imported(content).document == DOCUMENT


@settings(deadline=None)
@given(st.text(alphabet=st.characters(exclude_categories=["Cs"]), min_size=1, max_size=80))
def test_any_text_is_the_same_after_it_was_written(words: str) -> None:
    document = with_entry(DOCUMENT, "teacher.aim", words)
    assert parse(content_of(document)).teacher.aim == words


def archive(members: dict[str, bytes | str], **flags: int) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as made:
        for name, content in members.items():
            member = zipfile.ZipInfo(name)
            member.compress_type = zipfile.ZIP_DEFLATED
            member.external_attr = flags.get("attributes", 0)
            made.writestr(member, content)
    return buffer.getvalue()


def twice() -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as made:
        made.writestr("scenario.toml", TEXT)
        with pytest.warns(UserWarning, match="Duplicate"):
            made.writestr("scenario.toml", TEXT)
    return buffer.getvalue()


def encrypted() -> bytes:
    """As an archive says that a member is encrypted: bit 0 of its flags, in both of its headers."""
    content = bytearray(archive({"scenario.toml": TEXT}))
    content[6] |= 1
    content[content.rindex(b"PK\x01\x02") + 8] |= 1
    return bytes(content)


def lying() -> bytes:
    """A member that unpacks to more than it says."""
    content = bytearray(archive({"scenario.toml": b"# " + b"x" * 30_000_000}))
    at = content.rindex(b"PK\x01\x02")
    content[at + 24 : at + 28] = (1000).to_bytes(4, "little")
    return bytes(content)


SYMLINK = (stat.S_IFLNK | 0o777) << 16
A_CIRCLE = TEXT.replace('follows = ["static-size"]', 'follows = ["single-mass"]')
HOSTILE = {
    "lists in lists": (b"a=" + b"[" * 50_000 + b"]" * 50_000, "nests tables or lists too deeply"),
    "tables in tables": (b"a=" + b"{a=" * 30_000, "nests tables or lists too deeply"),
    "a huge number": (TEXT.replace("minutes = 40", f"minutes = {'9' * 100_000}").encode(), "can't be used"),
    "a number beyond floats": (TEXT.replace("z_mm = -95", "z_mm = 1e999").encode(), "must be"),
    "a task that follows itself": (A_CIRCLE.encode(), "is no earlier task"),
    "a script in a text": (
        TEXT.replace("The assembly is", "<script>go()</script>").encode(),
        "HTML or a script",
    ),
    "a link that runs": (
        TEXT.replace("The assembly is", "[x](javascript:go())").encode(),
        "HTML or a script",
    ),
    "a title with a tag": (TEXT.replace("One assembly on", "<img src=x onerror=go()>").encode(), "HTML"),
    "not UTF-8": (TEXT.encode().replace(b"Four-door", b"caf\xe9"), "is not UTF-8 text"),
    "no TOML": (b"%PDF-1.7", "is not TOML"),
    "too large": (b"#" * 6_000_000, "is larger than"),
    "too long a text": (b"#" * 900_000, "is longer than"),
    "a zip bomb": (archive({"scenario.toml": b"#" * 50_000_000}), "times its size"),
    "a zip bomb that lies": (lying(), "damaged|unpacks|times its size"),
    "an archive of too many members": (archive({f"images/a{i}.png": b"x" for i in range(40)}), "members"),
    "the same member twice": (twice(), "stands there twice"),
    "a path upward": (archive({"../scenario.toml": TEXT}), "isn’t scenario.toml"),
    "a path from the root": (archive({"/etc/passwd": "x"}), "isn’t scenario.toml"),
    "a path of another system": (archive({"images\\..\\a.png": "x"}), "isn’t scenario.toml"),
    "a folder in the folder": (archive({"images/a/b.png": "x"}), "isn’t scenario.toml"),
    "another kind of file": (
        archive({"scenario.toml": TEXT, "images/a.svg": "<svg/>"}),
        "isn’t scenario.toml",
    ),
    "a link to elsewhere": (archive({"images/a.png": "/etc/passwd"}, attributes=SYMLINK), "no ordinary file"),
    "an encrypted member": (encrypted(), "is encrypted"),
    "half an archive": (exported(DOCUMENT, PICTURES).content[:400], "is damaged"),
    "no scenario in it": (archive({"images.toml": ""}), "holds no scenario.toml"),
    "a picture that is none": (
        archive({"scenario.toml": TEXT, "images.toml": '[a]\nalt = "x"', "images/a.png": "x"}),
        "Send a PNG, JPEG or WebP",
    ),
    "a picture without words": (
        archive({"scenario.toml": TEXT, "images/a.png": picture()}),
        "no good alternative text",
    ),
    "alternative texts that are no TOML": (
        archive({"scenario.toml": TEXT, "images.toml": "=", "images/a.png": picture()}),
        "is not TOML",
    ),
    "a scenario with a fault": (TEXT.replace("points = 2", "points = -2", 1).encode(), "must be above 0"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_refused_with_its_reason_within_a_second(name: str) -> None:
    content, reason = HOSTILE[name]
    began = time.process_time()
    with pytest.raises(ScenarioFaults, match=reason) as refused:
        imported(content)
    assert time.process_time() - began < MOST_SECONDS
    for fault in refused.value.faults:
        assert fault.place
        assert 5 < len(fault.message) < 2000
