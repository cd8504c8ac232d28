"""Migrations run from the program itself: nobody needs to know the migration tool to upgrade."""

from typing import cast

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection

from app.settings import MIGRATIONS


def configuration(connection: Connection | None = None) -> Config:
    """Configuration for the migration tool; with a connection, its commands run inside that transaction."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def upgrade(connection: Connection, revision: str = "head") -> None:
    command.upgrade(configuration(connection), revision)


def downgrade(connection: Connection, revision: str) -> None:
    command.downgrade(configuration(connection), revision)


def head() -> str:
    """The revision that this release's tables have."""
    return cast(str, ScriptDirectory.from_config(configuration()).get_current_head())


def known_revisions() -> frozenset[str]:
    return frozenset(
        script.revision for script in ScriptDirectory.from_config(configuration()).walk_revisions()
    )


def revision_of(connection: Connection) -> str | None:
    """The revision of a database's tables; None when it has none of ours."""
    return MigrationContext.configure(connection).get_current_revision()
