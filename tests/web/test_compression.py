"""What is sent compressed, to whom, and what isn't."""

import gzip

import pytest
from flask import Flask, Response

from app.web import compression

LONG = "<p>one two three</p>" * 200
GZIP = {"Accept-Encoding": "gzip, br"}


@pytest.fixture
def bare() -> Flask:
    app = Flask("bare")
    compression.install(app)
    answers = {
        "long": Response(LONG),
        "short": Response("ok"),
        "picture": Response(b"x" * 5000, mimetype="image/png"),
        "packed": Response(gzip.compress(LONG.encode()), headers={"Content-Encoding": "gzip"}),
    }
    app.add_url_rule("/<name>", "answer", lambda name: answers[name])
    app.add_url_rule("/lines", "lines", lambda: Response(iter(["a" * 2000, "b" * 2000])))
    return app


def test_a_long_text_is_sent_compressed_to_a_browser_that_takes_it(bare: Flask) -> None:
    response = bare.test_client().get("/long", headers=GZIP)
    assert response.headers["Content-Encoding"] == "gzip"
    assert int(response.headers["Content-Length"]) == len(response.data) < len(LONG) / 10
    assert gzip.decompress(response.data).decode() == LONG
    assert response.headers["Vary"] == "Accept-Encoding"


@pytest.mark.parametrize("accepted", [None, "br", "gzip;q=0", "identity"])
def test_whoever_does_not_take_it_gets_the_text_itself(bare: Flask, accepted: str | None) -> None:
    headers = {} if accepted is None else {"Accept-Encoding": accepted}
    response = bare.test_client().get("/long", headers=headers)
    assert "Content-Encoding" not in response.headers
    assert response.text == LONG
    assert response.headers["Vary"] == "Accept-Encoding"


@pytest.mark.parametrize("path", ["/short", "/picture", "/lines"])
def test_short_texts_pictures_and_streams_are_sent_as_they_are(bare: Flask, path: str) -> None:
    response = bare.test_client().get(path, headers=GZIP)
    assert response.status_code == 200
    assert "Content-Encoding" not in response.headers


def test_what_is_compressed_already_is_not_compressed_again(bare: Flask) -> None:
    response = bare.test_client().get("/packed", headers=GZIP)
    assert gzip.decompress(response.data).decode() == LONG


def test_a_static_file_is_compressed_kept_for_a_year_and_not_sent_twice(app: Flask) -> None:
    client, address = app.test_client(), f"{app.static_url_path}/css/components.css"
    first = client.get(address, headers=GZIP)
    assert first.headers["Content-Encoding"] == "gzip"
    assert first.cache_control.immutable
    assert gzip.decompress(first.data) == client.get(address).data
    again = client.get(address, headers={**GZIP, "If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_a_part_of_a_file_is_sent_as_it_is(app: Flask) -> None:
    address = f"{app.static_url_path}/css/components.css"
    part = app.test_client().get(address, headers={**GZIP, "Range": "bytes=0-1999"})
    assert (part.status_code, len(part.data)) == (206, 2000)
    assert "Content-Encoding" not in part.headers
