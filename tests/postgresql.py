"""A PostgreSQL server of the tests' own: made in a temporary folder, reached by a socket there, thrown away.

`scripts/test.py` installs the server's programs; Debian keeps them outside the PATH. Nothing is skipped
without them: the tests that need a server fail and say what to install.
"""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path

import psycopg
from psycopg import sql

from app.store.db import Database

DEBIAN_KEEPS_THEM_IN = Path("/usr/lib/postgresql")
DEBIAN_USER = "postgres"
OWNER = "heavyspot"
TEMPLATE = "migrated"

QUICK = "-c fsync=off -c full_page_writes=off -c max_connections=60"
"""What is thrown away needs no care for the disk. The promises about durability are tested on SQLite."""


class Server:
    """A running server. `new_database` copies a template: the first stands at the newest migration."""

    def __init__(self, socket_folder: Path) -> None:
        self._socket_folder = socket_folder
        self._numbers = count(1)

    def url(self, name: str) -> str:
        return f"postgresql+psycopg://{OWNER}@/{name}?host={self._socket_folder}"

    def make_template(self, name: str, fill: Callable[[Database], object]) -> None:
        self._tell("CREATE DATABASE {}", name)
        database = Database(self.url(name))
        database.upgrade()
        fill(database)
        database.close()

    @contextmanager
    def new_database(self, template: str = TEMPLATE) -> Iterator[Database]:
        name = f"test_{next(self._numbers)}"
        self._tell("CREATE DATABASE {} TEMPLATE {} STRATEGY file_copy", name, template)
        database = Database(self.url(name))
        yield database
        database.close()
        self._tell("DROP DATABASE {} WITH (FORCE)", name)

    def _tell(self, statement: str, *names: str) -> None:
        where = f"host={self._socket_folder} user={OWNER} dbname=postgres"
        with psycopg.connect(where, autocommit=True) as connection:
            connection.execute(sql.SQL(statement).format(*map(sql.Identifier, names)))


@contextmanager
def running_server() -> Iterator[Server]:
    programs = where_programs_are()
    folder = Path(tempfile.mkdtemp(prefix="heavyspot-postgresql-"))  # a socket's path must be short
    user = _unprivileged_user(folder)
    data = folder / "data"

    def run(program: str, *options: str) -> None:
        subprocess.run(
            [programs / program, f"--pgdata={data}", *options],
            user=user,
            cwd=folder,
            check=True,
            stdout=subprocess.DEVNULL,
        )

    try:
        run("initdb", f"--username={OWNER}", "--auth=trust", "--encoding=UTF8", "--locale=C", "--no-sync")
        run(
            "pg_ctl",
            "start",
            "--wait",
            f"--log={folder / 'log'}",
            f"--options=-k {folder} -c listen_addresses='' {QUICK}",
        )
        try:
            server = Server(folder)
            server.make_template(TEMPLATE, fill=lambda _: None)
            yield server
        finally:
            run("pg_ctl", "stop", "--mode=immediate")
    finally:
        shutil.rmtree(folder)


def where_programs_are() -> Path:
    on_the_path = shutil.which("initdb")
    if on_the_path:
        return Path(on_the_path).parent
    versions = sorted(DEBIAN_KEEPS_THEM_IN.glob("*/bin/initdb"), key=lambda each: float(each.parts[-3]))
    assert versions, "no PostgreSQL: run scripts/test.py once, which installs it on Debian"
    return versions[-1].parent


def _unprivileged_user(folder: Path) -> str | None:
    """PostgreSQL refuses to run as root: then its Debian user owns the folder and runs it."""
    if os.geteuid() != 0:
        return None
    shutil.chown(folder, DEBIAN_USER)
    return DEBIAN_USER
