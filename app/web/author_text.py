"""Authors' Markdown on a page: a text in blocks, a line within a label, and the same in plain words.

No raw HTML, no script, and nothing is loaded but the author's own pictures: `![words](image:NAME)`. Which
address a name has is for the page to say (`use_pictures`); a picture that nobody knows is told by its words.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import nh3
from flask import g
from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

HEADINGS_DOWN = 2
"""A page has one <h1> and its sections are <h2>; an author's top heading becomes <h3>."""

TAGS = {
    *("a", "blockquote", "br", "code", "em", "h3", "h4", "h5", "h6", "hr", "img", "li", "ol", "p", "pre"),
    *("strong", "table", "tbody", "td", "th", "thead", "tr", "ul"),
}
TAGS_IN_A_LINE = {"br", "code", "em", "strong"}
OF_PICTURES = "image:"

MOST_KEPT = 1024
"""Texts whose line or words are kept: a class reads the same ones. A text in blocks may show a picture, and
which one depends on the page."""

_blocks = MarkdownIt("commonmark", {"html": False}).enable("table")
_line = MarkdownIt("commonmark", {"html": False, "breaks": True})


@dataclass(frozen=True)
class Picture:
    """An uploaded picture: an address on this server, and the words that stand for it."""

    url: str
    words: str


FindPicture = Callable[[str], Picture | None]


def use_pictures(find: FindPicture) -> None:
    """Say for the rest of this request which pictures an author's text may show, by their names."""
    g.find_picture = find


def markdown(text: str) -> Markup:
    """A text in blocks. Links lead only to http, https and mailto, and tell nobody where they come from."""
    tokens = _blocks.parse(text)
    for token in tokens:
        if token.type in ("heading_open", "heading_close"):
            token.tag = f"h{min(6, int(token.tag[1]) + HEADINGS_DOWN)}"
        if token.children:
            token.children = [_picture(each) if each.type == "image" else each for each in token.children]
    clean = nh3.clean(
        _blocks.renderer.render(tokens, _blocks.options, {}),
        tags=TAGS,
        attributes={"a": {"href", "title"}, "ol": {"start"}, "img": {"src", "alt", "loading"}},
        url_schemes={"http", "https", "mailto"},
        link_rel="noopener noreferrer",
    )
    return Markup(clean)  # noqa: S704 (nh3 has just cleaned it)


@lru_cache(MOST_KEPT)
def markdown_line(text: str) -> Markup:
    """A text within a label or a heading: emphasis and line ends alone, no links, lists or pictures."""
    tokens = _line.parseInline(text.strip())
    for token in tokens:
        token.children = [_in_words(each) if each.type == "image" else each for each in token.children or ()]
    html = _line.renderer.render(tokens, _line.options, {})
    clean = nh3.clean(html, tags=TAGS_IN_A_LINE, attributes={})
    return Markup(clean)  # noqa: S704 (nh3 has just cleaned it)


@lru_cache(MOST_KEPT)
def markdown_plain(text: str) -> str:
    """The words alone, for an attribute, an export or a list: one line for each block."""
    lines, mark = [], ""
    for token in _blocks.parse(text):
        if token.type == "list_item_open":
            mark = f"{token.info}{token.markup} " if token.info else "- "
        elif token.type in ("fence", "code_block"):
            lines.append(token.content.rstrip("\n"))
        elif token.children is not None:
            lines.append(mark + "".join(_words(token.children)))
            mark = ""
    return "\n".join(lines)


def _words(tokens: Sequence[Token]) -> Iterator[str]:
    for token in tokens:
        if token.type in ("softbreak", "hardbreak"):
            yield " "
        elif token.type == "image" and token.children:
            yield from _words(token.children)
        else:
            yield token.content


def _picture(token: Token) -> Token:
    """The picture that an author names, with its words; only these where it isn't one of the own pictures."""
    source = str(token.attrs.get("src", ""))
    find: FindPicture | None = g.get("find_picture")
    picture = None
    if find is not None and source.startswith(OF_PICTURES):
        picture = find(source.removeprefix(OF_PICTURES))
    if picture is None:
        return _in_words(token)
    words = _in_words(token)
    words.content = words.content or picture.words
    attrs: dict[str, str | int | float] = {"src": picture.url, "alt": "", "loading": "lazy"}
    return Token("image", "img", 0, attrs=attrs, children=[words])


def _in_words(picture: Token) -> Token:
    return Token("text", "", 0, content="".join(_words(picture.children or ())))
