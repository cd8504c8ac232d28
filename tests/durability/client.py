"""A student's browser without a screen: real requests, with the cookie and the token that the server gave."""

import http.client
import json
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode, urlsplit

from app.services.cards import Card
from tests.browser.watch import token_in

LONGEST_WAIT_SECONDS = 20


@dataclass(frozen=True)
class Answer:
    status: int
    location: str
    text: str


class Client:
    """One connection, as one tab of a browser has it; another tab gets a client with the same cookie."""

    def __init__(self, address: str, cookie: str = "") -> None:
        self._host = urlsplit(address).netloc
        self._connection = http.client.HTTPConnection(self._host, timeout=LONGEST_WAIT_SECONDS)
        self.cookie = cookie
        self.token = ""

    def get(self, path: str) -> Answer:
        return self._ask("GET", path, None, {})

    def post(self, path: str, **entries: str) -> Answer:
        """Send a form with its token."""
        body = urlencode({"csrf_token": self.token, **entries})
        return self._ask("POST", path, body, {"Content-Type": "application/x-www-form-urlencoded"})

    def send_json(self, path: str, body: dict[str, Any]) -> Answer:
        """Send as the page's script does."""
        headers = {"Content-Type": "application/json", "X-CSRF-Token": self.token}
        return self._ask("POST", path, json.dumps(body), headers)

    def post_json(self, path: str, body: dict[str, Any]) -> dict[str, Any]:
        """The reply to `send_json`; fails where it is no success."""
        answer = self.send_json(path, body)
        assert answer.status == 200, answer
        reply: dict[str, Any] = json.loads(answer.text)
        return reply

    def sign_in(self, card: Card) -> "Client":
        self.token = token_in(self.get("/sign-in").text)
        answer = self.post("/sign-in", sign_in_name=card.sign_in_name, pass_phrase=card.pass_phrase)
        assert answer.status == 303, answer
        self.token = token_in(self.get("/labs").text)
        return self

    def close(self) -> None:
        self._connection.close()

    def _ask(self, method: str, path: str, body: str | None, headers: dict[str, str]) -> Answer:
        if self.cookie:
            headers = headers | {"Cookie": self.cookie}
        self._connection.request(method, path, body, headers)
        response = self._connection.getresponse()
        text = response.read().decode()
        for name, value in response.getheaders():
            if name.lower() == "set-cookie":
                self.cookie = value.partition(";")[0]
        return Answer(response.status, response.headers.get("Location", ""), text)
