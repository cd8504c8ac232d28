"""Parts of an address that are checked before a view runs."""

from flask import Flask
from werkzeug.routing import BaseConverter


class PublicId(BaseConverter):
    """A random id as the store makes them, 20 signs of lower-case base 32; anything else is no page."""

    regex = "[a-z2-7]{20}"


def install(app: Flask) -> None:
    """Make `<public_id:name>` known to the routes of `app`."""
    app.url_map.converters["public_id"] = PublicId
