"""Runs migrations on the connection the program hands over, or on the configured database when a developer
calls the migration tool by hand."""

from alembic import context
from sqlalchemy import Connection

from app.settings import Settings
from app.store.db import Database
from app.store.models import Base


def migrate(connection: Connection) -> None:
    context.configure(
        connection=connection,
        target_metadata=Base.metadata,
        render_as_batch=True,  # SQLite changes a column only by rebuilding its table
    )
    with context.begin_transaction():
        context.run_migrations()


given = context.config.attributes.get("connection")
if context.is_offline_mode():
    raise SystemExit("Migrations need a database to run on; the SQL-only mode isn't supported.")
if given is not None:
    migrate(given)
else:
    with Database(Settings.from_environment().database_url).migration() as own:
        migrate(own)
