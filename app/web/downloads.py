"""Answers that a browser saves as a file."""

from flask import Response

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def download(content: bytes, file_name: str, media_type: str) -> Response:
    """`content` as a file to keep; `file_name` as app.exports.file_names makes it, so it needs no quoting."""
    response = Response(content, mimetype=media_type)
    response.headers["Content-Disposition"] = f'attachment; filename="{file_name}"'
    return response
