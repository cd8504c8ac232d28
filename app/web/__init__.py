"""The web: thin routes, forms, pages. Every room of `app/web` is joined to the application here."""

from flask import Flask

from app.web import access, compression, context, converters, errors, formatting, fragments, security
from app.web.auth import blueprint as auth
from app.web.calculators import blueprint as calculators
from app.web.images import blueprint as images
from app.web.labs import blueprint as labs
from app.web.teaching import blueprint as teaching

BLUEPRINTS = (auth, labs, teaching, calculators, images)


def install(app: Flask) -> None:
    """Give `app` its pages, its guard, its errors and its headers. Raises UnlistedViewError."""
    for part in (access, compression, context, converters, errors, formatting, fragments, security):
        part.install(app)
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    access.rules_by_endpoint(app)
