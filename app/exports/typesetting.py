"""The one place that knows the typesetter: plain data and a sheet template in, an accessible PDF out.

Text that people typed reaches a template only as a JSON file, so it is shown as text and can never be read as
markup or code. Templates, data and pictures are files in memory for one compilation; nothing else is read.
"""

import json
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from functools import cache, lru_cache
from importlib.resources import files
from typing import Literal

import typst

from app.exports.plain_text import writable

Paper = Literal["us-letter", "a4"]

_COMMON_PARTS = "drawing_sheet.typ"
_ACCESSIBLE_PDF = "ua-1"  # ISO 14289-1
_RUNS_REMEMBERED = 10  # measured; a test watches the memory
_FIRST_ASKED_FOR = "\u0530"
# The typesetter quotes each sign that no font has, escaped as a Rust string.
_UNDRAWN = re.compile(r'the text `"((?:[^"\\]|\\.)+)"` could not be displayed')
_RUST_ESCAPE = re.compile(r"\\(?:u\{([0-9a-f]+)\}|(.))")


def typeset(sheet: str, data: object, pictures: Mapping[str, str] | None = None) -> bytes:
    """Typeset the template `sheet` (a file of sheets/) as a tagged PDF that claims PDF/UA-1.

    The template reads `data` (anything JSON holds) from data.json and may show `pictures`, SVG texts by file
    name. The same input gives the same bytes. Embedded fonts draw all that they can, so that a page looks the
    same on every machine; only for signs that they lack the machine's own fonts are asked; a sign that no
    font has (an emoji on most servers) is printed as its name or code in brackets.
    """
    content = {"data.json": json.dumps(_writable(data), ensure_ascii=False), **(pictures or {})}
    try:
        return _compile_with_any_font(sheet, content)
    finally:
        _free_memory()


def signs_without_a_font(texts: Iterable[str]) -> str:
    """The signs of these texts that no font of this machine has, each once; "" when it has them all.

    They would be printed as names or codes. Only signs beyond Latin, Greek and Cyrillic are looked at, which
    the embedded fonts draw.
    """
    signs = "".join(sorted({sign for text in texts for sign in writable(text) if sign >= _FIRST_ASKED_FOR}))
    return _without_a_font(signs) if signs else ""


@lru_cache(maxsize=64)
def _without_a_font(signs: str) -> str:
    try:
        _compile("signs.typ", {"data.json": json.dumps(signs, ensure_ascii=False)}, _every_font())
    except _UndrawnSignsError as error:
        return "".join(sign for sign in signs if any(sign in each for each in error.signs))
    finally:
        _free_memory()
    return ""


class _UndrawnSignsError(Exception):
    """No font has these signs, so the file would not be accessible."""

    def __init__(self, signs: Iterable[str]) -> None:
        self.signs = frozenset(signs)


def _compile_with_any_font(sheet: str, content: Mapping[str, str]) -> bytes:
    try:
        return _compile(sheet, content, _embedded_fonts())
    except _UndrawnSignsError:
        pass
    try:
        return _compile(sheet, content, _every_font())
    except _UndrawnSignsError as error:
        content = {name: _with_names(text, error.signs) for name, text in content.items()}
    try:
        return _compile(sheet, content, _every_font())
    except _UndrawnSignsError:
        # It was hidden from us, say as a character reference in a picture: print the page, without the claim.
        return _compile(sheet, content, _every_font(), standards=[])


def _compile(
    sheet: str, content: Mapping[str, str], fonts: typst.Fonts, standards: Sequence[str] = (_ACCESSIBLE_PDF,)
) -> bytes:
    templates = {"main.typ": _template(sheet), _COMMON_PARTS: _template(_COMMON_PARTS)}
    in_memory = templates | {name: text.encode() for name, text in content.items()}
    try:
        return _run(in_memory, fonts, standards)
    except typst.TypstError as error:
        signs = [_unescaped(quoted) for quoted in _UNDRAWN.findall(error.diagnostic)]
        if signs:
            raise _UndrawnSignsError(signs) from error
        raise


def _free_memory() -> None:
    """Make the typesetter forget a run, some 400 MB for a class, by running what it takes to outdate it."""
    for _ in range(_RUNS_REMEMBERED):
        _run({"main.typ": b""}, _embedded_fonts(), ())


def _run(in_memory: Mapping[str, bytes], fonts: typst.Fonts, standards: Sequence[str]) -> bytes:
    # The package takes a dictionary of files, as its README says; its type stub does not know.
    return typst.compile(in_memory, font_paths=fonts, pdf_standards=list(standards))  # type: ignore


@cache
def _template(name: str) -> bytes:
    return (files("app.exports") / "sheets" / name).read_bytes()


@cache
def _embedded_fonts() -> typst.Fonts:
    return typst.Fonts(include_system_fonts=False)


@cache
def _every_font() -> typst.Fonts:
    return typst.Fonts()


def _writable(value: object) -> object:
    """The value with every text in it made writable."""
    match value:
        case str():
            return writable(value)
        case dict():
            return {key: _writable(item) for key, item in value.items()}
        case list() | tuple():
            return [_writable(item) for item in value]
        case _:
            return value


def _with_names(text: str, signs: Iterable[str]) -> str:
    longest_first = sorted(signs, key=len, reverse=True)
    return re.sub("|".join(map(re.escape, longest_first)), lambda found: _named(found[0]), text)


def _named(signs: str) -> str:
    """Each symbol as its Unicode name in brackets, any other sign as its code, ASCII as it is."""
    return "".join(_name(sign) for sign in signs if unicodedata.category(sign) != "Cf")


def _name(sign: str) -> str:
    if sign.isascii():
        return sign
    if unicodedata.category(sign) == "So":
        return f"[{unicodedata.name(sign).lower()}]"
    return f"[U+{ord(sign):04X}]"


def _unescaped(quoted: str) -> str:
    return _RUST_ESCAPE.sub(lambda found: chr(int(found[1], 16)) if found[1] else found[2], quoted)
