"""A sheet of a draft as a browser has it: its entries by name, as the form would send them."""

from collections.abc import Iterator
from xml.etree.ElementTree import Element

import html5lib
from werkzeug.datastructures import MultiDict
from werkzeug.test import TestResponse


def entries_of(response: TestResponse) -> MultiDict[str, str]:
    """What the form of a sheet sends when nothing is changed."""
    page = html5lib.parse(response.text, namespaceHTMLElements=False)
    (form,) = [form for form in page.iter("form") if "authoring" in (form.get("class") or "").split()]
    return MultiDict(pair for element in form.iter() for pair in _sent(element))


def _sent(element: Element) -> Iterator[tuple[str, str]]:
    name = element.get("name")
    if name is None:
        return
    match element.tag:
        case "input":
            ticked = element.get("type") not in ("checkbox", "radio") or element.get("checked") is not None
            if ticked:
                yield name, element.get("value", "")
        case "textarea":
            yield name, (element.text or "").removeprefix("\n")
        case "select":
            options = list(element.iter("option"))
            chosen = [each for each in options if each.get("selected") is not None] or options[:1]
            yield from ((name, each.get("value", "")) for each in chosen)
