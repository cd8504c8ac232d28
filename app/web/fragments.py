"""Pieces of a page that are kept as HTML while nothing that they are made from changes."""

from collections.abc import Callable, Hashable

from flask import Flask
from markupsafe import Markup

from app.services.kept import Kept

MOST_FRAGMENTS = 512
"""The sheets and measurements of about a hundred students; some twenty megabytes."""

_kept: Kept[Markup] = Kept(MOST_FRAGMENTS)


def kept(*key: Hashable, caller: Callable[[], Markup]) -> Markup:
    """`{% call kept("name of the piece", ...) %}...{% endcall %}`: the block, made once for its key.

    The key must name all that stands in the block and whose it is. No form, token, clock or message belongs
    into one.
    """
    fragment = _kept.get(key)
    if fragment is None:
        fragment = caller()
        _kept.put(key, fragment)
    return fragment


def install(app: Flask) -> None:
    """Make `kept` known to the templates of `app`."""
    app.add_template_global(kept)
