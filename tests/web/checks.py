"""What must hold on every answer, whoever asks: the test client checks it at each request."""

import re
from xml.etree.ElementTree import Element

import html5lib
from werkzeug.test import TestResponse

from app.web.security import HEADERS

XHTML = "{http://www.w3.org/1999/xhtml}"


def check_headers(response: TestResponse) -> None:
    for name, value in HEADERS.items():
        assert response.headers.get(name) == value, f"{name} is missing"
    assert "Cache-Control" in response.headers


def check_page(html: str) -> Element:
    """The page, which is as it should be. Raises AssertionError, or html5lib's ParseError for markup that a
    browser would have to guess at."""
    page = html5lib.HTMLParser(strict=True).parse(html)
    everything = list(page.iter())
    _check_frame(page)
    _check_forms(page)
    ids = [element.get("id") for element in everything if element.get("id")]
    assert len(ids) == len(set(ids)), f"ids come twice: {sorted({i for i in ids if ids.count(i) > 1})}"
    for element in everything:
        for name in element.attrib:
            assert not str(name).startswith("on"), f"inline handler {name} on {element.tag}"
        assert element.get("style") is None, f"inline style on {element.tag}"
        _check_own_host(element)
    for reference in _labels(everything):
        assert reference in ids, f"a label or a description points to #{reference}, which isn't there"
    return page


def _check_frame(page: Element) -> None:
    assert page.get("lang") == "en"
    title = page.find(f".//{XHTML}title")
    assert title is not None
    assert re.fullmatch(r"\S.* – Heavy Spot", title.text or "", re.DOTALL), f"title: {title.text!r}"
    assert len(page.findall(f".//{XHTML}h1")) == 1, "a page has one <h1>"
    assert page.findall(f".//{XHTML}style") == [], "inline style sheet"
    for script in page.iter(f"{XHTML}script"):
        data_block = script.get("type") == "application/json"
        assert data_block or (script.get("src") and not (script.text or "").strip()), "inline script"


def _check_forms(page: Element) -> None:
    for form in page.iter(f"{XHTML}form"):
        assert form.get("action") is not None, "a form without action"
        if form.get("method") == "post":
            hidden = form.findall(f".//{XHTML}input[@name='csrf_token']")
            assert len(hidden) == 1, "a form without its token"
            assert hidden[0].get("value")
    for image in page.iter(f"{XHTML}img"):
        assert image.get("alt") is not None, "an image without alt"


def _check_own_host(element: Element) -> None:
    if element.tag in {XHTML + name for name in ("img", "script", "link", "iframe", "source", "form")}:
        for name in ("src", "href", "action"):
            assert not re.match(r"([a-z]+:)?//", element.get(name) or ""), f"{element.tag} asks another host"


def _labels(elements: list[Element]) -> set[str]:
    named = {element.get("for") for element in elements} - {None}
    for element in elements:
        for name in ("aria-describedby", "aria-labelledby", "aria-controls"):
            named.update((element.get(name) or "").split())
    return {str(name) for name in named}


def csrf_token(page: Element) -> str:
    """The token of any form on the page; all forms of one browser session share it."""
    found = page.find(f".//{XHTML}input[@name='csrf_token']")
    return "" if found is None else found.get("value", "")
