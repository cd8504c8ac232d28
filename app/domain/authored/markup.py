"""HTML in an author's texts: pages never show it as such, and a text that holds it is refused."""

import re
from collections.abc import Iterator

from app.domain.authored.entries import Document, every_entry
from app.domain.faults import Fault

_HTML = re.compile(
    r"</?[a-z][a-z0-9-]*(\s[^<>]{0,400})?/?>|<!--|<!doctype|(java|vb)script:|data:text/html", re.IGNORECASE
)
"""A whole tag, a comment, or an address that runs something; “a < b” is none of these."""


def markup_faults(document: Document) -> tuple[Fault, ...]:
    """A fault for each text that holds HTML or a script."""
    return tuple(_faults(document))


def _faults(document: Document) -> Iterator[Fault]:
    for path, value in every_entry(document).items():
        found = _HTML.search(value) if isinstance(value, str) else None
        if found:
            shown = found[0] if len(found[0]) <= 40 else found[0][:40] + "…"
            yield Fault(path, f"Holds HTML or a script (“{shown}”). Write plain words, or Markdown.")
