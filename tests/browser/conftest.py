"""A real browser and a real server for the tests of this folder; each worker has one of either."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from tests.browser.school import Classroom, new_classroom
from tests.browser.server import Server
from tests.browser.watch import Windows

FLAGS = [
    "--no-sandbox",  # chromium's own sandbox needs a user other than root
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",  # even by mistake it reaches nobody else
]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's chromium, elsewhere the one playwright brings. Without either the tests fail, never skip."""
    with sync_playwright() as playwright:
        executable = shutil.which("chromium") or playwright.chromium.executable_path
        assert Path(executable).exists(), "no chromium: run scripts/test.py once, which installs it"
        browser = playwright.chromium.launch(executable_path=executable, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server that many tests share; each makes a class of its own on it."""
    server = Server(tmp_path_factory.mktemp("server"))
    server.start()
    yield server
    server.close()


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[Server]:
    """A server that a test may fill, kill and start again."""
    server = Server(tmp_path)
    server.start()
    yield server
    server.close()


@pytest.fixture
def classroom(server: Server) -> Classroom:
    """A class of its own on the shared server."""
    return new_classroom(server.database)


@pytest.fixture
def windows(browser: Browser, server: Server) -> Iterator[Windows]:
    """Watched windows on the shared server."""
    windows = Windows(browser, server.address)
    yield windows
    windows.close()


@pytest.fixture
def own_windows(browser: Browser, own_server: Server) -> Iterator[Windows]:
    """Watched windows on the test's own server."""
    windows = Windows(browser, own_server.address)
    yield windows
    windows.close()
