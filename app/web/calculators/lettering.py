"""Formulas as text, lettered for the page: `{C_1} = {m} {r} {w}^2` has italic symbols, indices and "
"powers."""

import re

from markupsafe import Markup, escape

_SIGNS = re.compile(r"\{(?P<symbol>[^{}_]+)(?:_(?P<index>[^{}]+))?\}|\^(?P<power>-?\w+)")


def lettered(text: str) -> Markup:
    """One line of a formula as HTML; all of its text is escaped."""
    html, end = Markup(""), 0
    for sign in _SIGNS.finditer(text):
        html += escape(text[end : sign.start()])
        end = sign.end()
        if sign["power"]:
            html += Markup("<sup>{}</sup>").format(sign["power"])
        elif sign["index"]:
            html += Markup("<var>{}<sub>{}</sub></var>").format(sign["symbol"], sign["index"])
        else:
            html += Markup("<var>{}</var>").format(sign["symbol"])
    return html + escape(text[end:])
