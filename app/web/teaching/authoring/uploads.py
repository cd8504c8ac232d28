"""Files that an instructor sends: how large they may be, and what to say when nothing usable came."""

from flask import request
from werkzeug.exceptions import RequestEntityTooLarge

from app.library.images import LARGEST_UPLOAD

ROOM_FOR_ENTRIES = 64 * 1024
TOO_LARGE = f"Send a file of at most {LARGEST_UPLOAD // 1024 // 1024} MB."


def allow_a_file() -> bool:
    """Let this request bring a file; call it before the form is read. False: more came than is taken."""
    request.max_content_length = LARGEST_UPLOAD + ROOM_FOR_ENTRIES
    try:
        _ = request.form
    except RequestEntityTooLarge:
        return False
    return True


def file_sent(name: str = "file") -> tuple[str, bytes]:
    """The file's own name and content; both empty when none was chosen."""
    sent = request.files.get(name)
    if sent is None or not sent.filename:
        return "", b""
    return sent.filename, sent.read(LARGEST_UPLOAD + 1)
