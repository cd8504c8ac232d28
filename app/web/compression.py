"""Texts of more than a packet are sent compressed to whoever takes them so.

A compressed page tells by its length what in it repeats, so nothing secret may stand in one beside what a
stranger can put there and be the same in two answers: a form's token is another each second.
"""

import gzip

from flask import Flask, Response, request

SMALLEST = 1024
"""Bytes; what is smaller goes in one packet anyhow."""

LEVEL = 2
"""The best level takes twice as long for an eighth less."""

TEXTS = {
    "application/json",
    "image/svg+xml",
    "text/css",
    "text/csv",
    "text/html",
    "text/javascript",
    "text/plain",
}
NO_WHOLE_BODY = {204, 206, 304}


def compress(response: Response) -> Response:
    """Compress one answer, if it is a whole text and worth it."""
    if response.mimetype not in TEXTS or response.status_code in NO_WHOLE_BODY:
        return response
    if response.is_streamed and not response.direct_passthrough:
        return response
    if (response.content_length or SMALLEST) < SMALLEST:
        return response
    response.vary.add("Accept-Encoding")
    if "Content-Encoding" in response.headers or not request.accept_encodings["gzip"]:
        return response
    response.direct_passthrough = False  # a file's bytes are read here
    text = response.get_data()
    response.set_data(gzip.compress(text, LEVEL, mtime=0))
    response.headers["Content-Encoding"] = "gzip"
    etag, _ = response.get_etag()
    if etag is not None:
        response.set_etag(etag, weak=True)  # the same text, not the same bytes
    return response


def install(app: Flask) -> None:
    """Compress the answers of `app`."""
    app.after_request(compress)
