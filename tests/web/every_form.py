"""Every form that the pages show to a person, filled in as a browser would send it.

So a test can go over all that can be changed, and a new form is in it as soon as a page shows it.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from io import BytesIO
from typing import Any
from urllib.parse import urljoin, urlsplit
from xml.etree.ElementTree import Element

import html5lib
from flask import Flask
from werkzeug.test import TestResponse

from tests.web.checks import XHTML
from tests.web.client import CheckedClient

CHOSEN = ("hidden", "radio", "checkbox", "file", "submit")


@dataclass(frozen=True)
class FilledForm:
    """entries: what stands in it, without its token; where nothing is ticked, the first that is offered.
    files: names of the controls that take a file. typed: names of those in which a person types.
    offered: the last choice of each list. as_json: a script sends it."""

    page: str
    endpoint: str
    path: str
    entries: Mapping[str, tuple[str, ...]]
    files: tuple[str, ...] = ()
    typed: tuple[str, ...] = ()
    offered: Mapping[str, str] = field(default_factory=dict)
    as_json: bool = False

    def with_entries(self, entries: Mapping[str, str]) -> "FilledForm":
        return replace(self, entries={**self.entries, **{name: (text,) for name, text in entries.items()}})

    def send(
        self, client: CheckedClient, *, token: str | None = None, file: tuple[bytes, str] = (b"", "")
    ) -> TestResponse:
        """With the client's own token, which it has of any page that it opened. file: content and name."""
        token = client.csrf_token if token is None else token
        if self.as_json:
            sent = {name: values[0] for name, values in self.entries.items()}
            return client.post(self.path, json=sent, headers={"X-CSRF-Token": token})
        data: dict[str, Any] = {name: list(values) for name, values in self.entries.items()}
        data |= {name: (BytesIO(file[0]), file[1]) for name in self.files}
        return client.post(self.path, data={"csrf_token": token, **data})


def forms_of(app: Flask, client: CheckedClient, addresses: Iterable[str]) -> list[FilledForm]:
    """Of the pages at these addresses: one for each endpoint with each set of names and pressed button."""
    found: dict[tuple[str, ...], FilledForm] = {}
    for address in addresses:
        answer = client.get(address)
        if answer.mimetype == "text/html" and answer.status_code == 200:
            for form in forms_on(app, address, answer.text):
                found.setdefault(kind_of(form), form)
    return list(found.values())


def kind_of(form: FilledForm) -> tuple[str, ...]:
    done = form.entries.get("do", form.entries.get("act", ("",)))
    return (form.endpoint, *sorted(form.entries), *form.files, "".join(done).split(" ")[0])


def forms_on(app: Flask, address: str, html: str) -> Iterator[FilledForm]:
    """Each form as often as it has buttons that send it."""
    page = html5lib.HTMLParser().parse(html)
    for form in page.iter(f"{XHTML}form"):
        if form.get("method") != "post":
            continue
        path = urljoin(address, form.get("action") or "")
        endpoint, _ = app.url_map.bind("").match(urlsplit(path).path, method="POST")
        controls = [each for each in form.iter() if each.get("name") != "csrf_token"]
        buttons = [each for each in controls if each.tag == f"{XHTML}button" and sends(each)]
        for pressed in buttons or [form]:
            named = pressed.get("name") if buttons else None
            yield FilledForm(
                page=address,
                endpoint=endpoint,
                path=path,
                entries=entries_of(controls) | ({named: (pressed.get("value", ""),)} if named else {}),
                files=tuple(str(each.get("name")) for each in controls if each.get("type") == "file"),
                typed=tuple(str(each.get("name")) for each in controls if is_typed(each)),
                offered={
                    str(each.get("name")): list(each.iter(f"{XHTML}option"))[-1].get("value", "")
                    for each in controls
                    if each.tag == f"{XHTML}select"
                },
            )


def sends(button: Element) -> bool:
    return button.get("type", "submit") == "submit"


def entries_of(controls: list[Element]) -> dict[str, tuple[str, ...]]:
    entries: dict[str, tuple[str, ...]] = {}
    first: dict[str, str] = {}
    for each in controls:
        name, kind = each.get("name"), each.get("type", "text")
        if not name or each.tag in (f"{XHTML}form", f"{XHTML}button") or kind == "file":
            continue
        if kind in ("radio", "checkbox"):
            first.setdefault(name, each.get("value", "on"))
        entries[name] = entries.get(name, ()) + values_of(each, kind)
    return {name: values or (first.get(name, ""),) for name, values in entries.items()}


def values_of(control: Element, kind: str) -> tuple[str, ...]:
    if control.tag == f"{XHTML}select":
        options = list(control.iter(f"{XHTML}option"))
        chosen = [each for each in options if each.get("selected") is not None] or options[:1]
        return tuple(each.get("value", "") for each in chosen)
    if control.tag == f"{XHTML}textarea":
        return ("".join(control.itertext()),)
    if kind in ("radio", "checkbox") and control.get("checked") is None:
        return ()
    return (control.get("value", "on" if kind == "checkbox" else ""),)


def is_typed(control: Element) -> bool:
    return control.tag == f"{XHTML}textarea" or (
        control.tag == f"{XHTML}input" and control.get("type", "text") not in CHOSEN
    )
