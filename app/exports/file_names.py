"""File names for downloads, made from titles that people typed."""

import re
import unicodedata
from datetime import date
from typing import Literal

Extension = Literal["pdf", "csv", "docx", "xlsx", "zip"]

_LONGEST_TITLES = 100


def file_name(kind: str, *titles: str, day: date, extension: Extension) -> str:
    """A name such as "gradebook-period-3-2026-03-02.csv": ASCII letters, digits and hyphens only.

    So it can hold no path, no quote and no line end of a header, and needs no escaping anywhere. Accents are
    dropped; a title with nothing left, say one in another alphabet, is left out; what is too long is cut.
    """
    titles_shown = "-".join(part for part in map(_plain, (kind, *titles)) if part)
    titles_cut = titles_shown[:_LONGEST_TITLES].strip("-")
    return "-".join(part for part in (titles_cut, day.isoformat()) if part) + f".{extension}"


def _plain(text: str) -> str:
    ascii_text = unicodedata.normalize("NFKD", text.casefold()).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", ascii_text.replace("'", "")).strip("-")
