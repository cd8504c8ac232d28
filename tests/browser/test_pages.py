"""Every page in each of its states: axe finds nothing, nothing hangs over, a finger hits every target, and it
is light."""

from collections.abc import Iterator
from contextlib import nullcontext
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from flask import Flask
from playwright.sync_api import Page, Request, expect

from app.factory import create_app
from app.settings import Settings
from tests.browser import looks
from tests.browser.server import Server
from tests.browser.stage import Stage, set_up
from tests.browser.visiting import Visit
from tests.browser.visits import NOT_PAGES, VISITS
from tests.browser.watch import Windows

pytestmark = pytest.mark.browser


@pytest.fixture(scope="session")
def stage(server: Server) -> Stage:
    return set_up(server)


@pytest.fixture(scope="session")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    """For its list of pages; its database is never opened."""
    folder: Path = tmp_path_factory.mktemp("routes")
    app = create_app(
        Settings(data_folder=folder, database_url=f"sqlite:///{folder}/none.db", secret_key="k" * 40)
    )
    yield app
    app.extensions["database"].close()


def test_every_page_has_a_visit(app: Flask) -> None:
    pages = {rule.endpoint for rule in app.url_map.iter_rules() if "GET" in (rule.methods or ())}
    visited = {visit.endpoint for visit in VISITS} | SET_UP
    assert pages - set(NOT_PAGES) - visited == set()
    assert set(NOT_PAGES) <= pages


@pytest.mark.parametrize("visit", VISITS, ids=lambda visit: visit.name)
def test_a_page_has_no_fault(windows: Windows, stage: Stage, app: Flask, visit: Visit) -> None:
    page = windows.open(visit.who(stage))
    documents: list[Request] = []
    page.on("request", lambda request: documents.append(request) if request.is_navigation_request() else None)
    with windows.watch.refusing(visit.refused) if visit.refused else nullcontext():
        visit.go(page, stage)
        page.wait_for_load_state()
    last = documents[-1]
    if visit.endpoint:
        endpoint, _ = app.url_map.bind("").match(urlsplit(last.url).path, method=last.method)
        assert endpoint == visit.endpoint
    answer = last.response()
    assert answer
    assert answer.status == (visit.refused or 200)
    expect(page.get_by_role("heading", level=1)).to_have_count(1)
    looks.require_no_fault(page)
    assert looks.weight(page) <= looks.MOST_BYTES


SET_UP = {"auth.setup"}
"""Looked at below, on a server that has no instructor yet."""


def test_the_set_up_page_has_no_fault(own_server: Server, own_windows: Windows) -> None:
    page: Page = own_windows.open()
    page.goto(own_server.setup_link)
    looks.require_no_fault(page)
    with own_windows.watch.refusing(422):
        page.get_by_label("Pass phrase", exact=True).fill("short")
        page.get_by_role("button", name="Make the account").click()
        expect(page.get_by_role("alert")).to_be_visible()
    looks.require_no_fault(page)
    with own_windows.watch.refusing(404):
        page.goto("/setup/nonsense")
    looks.require_no_fault(page)
