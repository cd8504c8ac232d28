"""The project's own files, as the rules look at them."""

import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
VENDORED = ("static/vendor/", "tests/vendor/", "tests/browser/vendor/")


@cache
def files() -> tuple[Path, ...]:
    """Every file that is committed or would be: what git ignores is not the project's."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    paths = [ROOT / name for name in listed.split("\0") if name and not name.startswith(VENDORED)]
    return tuple(sorted(path for path in paths if path.is_file()))


def under(folder: str, *suffixes: str) -> list[Path]:
    """Files in a folder of the project, with one of these suffixes when any are given."""
    return [
        path
        for path in files()
        if path.is_relative_to(ROOT / folder) and (not suffixes or path.suffix in suffixes)
    ]


def text_of(path: Path) -> str | None:
    """A file's text, or None where it is a picture or other bytes."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return None


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()
