"""Browser windows that are watched: a page must be quiet, and ask nobody but its own server."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, Request, Response

from app.services.cards import Card

DESK = {"width": 1280, "height": 800}
PHONE = {"width": 390, "height": 780}
NARROWEST = {"width": 320, "height": 640}
LONGEST_WAIT_MS = 15_000


class Watch:
    """Notes whatever a page should not do. A refusal (4xx) is a fault too, unless it is meant."""

    def __init__(self, address: str) -> None:
        self.host = urlsplit(address).netloc
        self.faults: list[str] = []
        self._meant: set[int] = set()
        self._server_may_be_away = False

    def over(self, context: BrowserContext) -> None:
        context.on("request", self._request)
        context.on("requestfailed", self._failed)
        context.on("response", self._response)
        context.on("console", self._console)
        context.on("weberror", lambda error: self.faults.append(f"script error: {error.error}"))

    @contextmanager
    def refusing(self, *statuses: int) -> Iterator[None]:
        """A block in which the server is meant to answer with one of these statuses."""
        self._meant |= set(statuses)
        yield
        self._meant -= set(statuses)

    @contextmanager
    def server_away(self) -> Iterator[None]:
        """A block in which the server may not answer at all."""
        self._server_may_be_away = True
        yield
        self._server_may_be_away = False

    def _request(self, request: Request) -> None:
        parts = urlsplit(request.url)
        if parts.scheme not in ("data", "blob") and parts.netloc != self.host:
            self.faults.append(f"asked an outside host: {request.url}")

    def _failed(self, request: Request) -> None:
        # A browser calls a request aborted that it turned into a download or left behind with its page.
        if "ERR_ABORTED" not in (request.failure or "") and not self._server_may_be_away:
            self.faults.append(f"no answer: {request.url} ({request.failure})")

    def _response(self, response: Response) -> None:
        if response.status >= 400 and response.status not in self._meant:
            self.faults.append(f"answered {response.status}: {response.request.method} {response.url}")

    def _console(self, message: ConsoleMessage) -> None:
        # That a resource failed is told, with its status, by the events above.
        if message.type in ("error", "warning") and "Failed to load resource" not in message.text:
            self.faults.append(f"console {message.type}: {message.text}")


class Windows:
    """Opens watched windows of one test and closes them."""

    def __init__(self, browser: Browser, address: str) -> None:
        self._browser = browser
        self._contexts: list[BrowserContext] = []
        self.address = address
        self.watch = Watch(address)

    def open(
        self,
        card: Card | None = None,
        *,
        size: dict[str, int] = DESK,
        touch: bool = False,
        javascript: bool = True,
    ) -> Page:
        """A new window with cookies of its own; with a card, that person is signed in."""
        context = self._browser.new_context(
            base_url=self.address,
            viewport=size,  # type: ignore[arg-type]
            has_touch=touch,
            is_mobile=touch,
            java_script_enabled=javascript,
            reduced_motion="reduce",
            locale="en-US",
        )
        context.set_default_timeout(LONGEST_WAIT_MS)
        self._contexts.append(context)
        self.watch.over(context)
        if card:
            sign_in_quietly(context, card)
        return context.new_page()

    def close(self) -> None:
        for context in self._contexts:
            context.close()
        assert not self.watch.faults, "\n".join(self.watch.faults)


def sign_in_quietly(context: BrowserContext, card: Card) -> None:
    """Get the cookie of a sign-in without a page: the tests of signing in use the page."""
    token = token_in(context.request.get("/sign-in").text())
    answer = context.request.post(
        "/sign-in",
        form={"csrf_token": token, "sign_in_name": card.sign_in_name, "pass_phrase": card.pass_phrase},
        max_redirects=0,
    )
    assert answer.status == 303, answer.text()


def token_in(html: str) -> str:
    _, _, rest = html.partition('name="csrf_token"')
    _, _, rest = rest.partition('value="')
    token, _, _ = rest.partition('"')
    assert token, "no form with a token on this page"
    return token


def flash_of(page: Page) -> Any:
    """The region in which a page says what has just been done."""
    return page.locator("[data-messages]")
