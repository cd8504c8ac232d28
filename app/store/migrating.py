"""Migrations run from the program itself: nobody needs to know the migration tool to upgrade.

The tool is imported where it runs: it takes as long to load as the database library, and a server that finds
its tables current never needs it.
"""

from typing import TYPE_CHECKING

from sqlalchemy import Connection, inspect, text

from app.settings import MIGRATIONS

if TYPE_CHECKING:
    from alembic.config import Config


def configuration(connection: Connection | None = None) -> "Config":
    """Configuration for the migration tool; with a connection, its commands run inside that transaction."""
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def upgrade(connection: Connection, revision: str = "head") -> None:
    from alembic import command

    command.upgrade(configuration(connection), revision)


def downgrade(connection: Connection, revision: str) -> None:
    from alembic import command

    command.downgrade(configuration(connection), revision)


def head() -> str:
    """The revision that this release's tables have."""
    return max(known_revisions())


def known_revisions() -> frozenset[str]:
    """Each migration's file begins with its revision, and they follow one another."""
    files = (MIGRATIONS / "versions").glob("[0-9]*_*.py")
    return frozenset(file.name.partition("_")[0] for file in files)


def revision_of(connection: Connection) -> str | None:
    """The revision of a database's tables; None when it has none of ours."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    revision: str | None = connection.scalar(text("SELECT version_num FROM alembic_version"))
    return revision
