"""The one place where the parts of the web application are joined."""

from collections.abc import Callable
from datetime import UTC, datetime

from flask import Flask
from jinja2 import StrictUndefined

from app import web
from app.settings import STATIC, TEMPLATES, Settings
from app.store.db import Database
from app.web.rendering import Application
from app.web.security import static_digest

Clock = Callable[[], datetime]


def utc_now() -> datetime:
    """The time, aware, in UTC."""
    return datetime.now(UTC)


def create_app(settings: Settings, *, database: Database | None = None, clock: Clock = utc_now) -> Flask:
    """The web application. Tests give their own database and clock.

    Raises UnlistedViewError when a view has no access rule.
    """
    app = Application(
        "app",
        template_folder=str(TEMPLATES),
        static_folder=str(STATIC),
        static_url_path=f"/static/{static_digest(STATIC)}",
    )
    app.secret_key = settings.secret_key
    app.extensions["database"] = database or Database(settings.database_url)
    app.extensions["clock"] = clock
    app.jinja_env.undefined = StrictUndefined
    web.install(app)
    return app
