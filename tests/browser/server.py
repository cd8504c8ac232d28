"""A real server in a process of its own, which can be killed and started again at the same address."""

import re
import subprocess
import time
from functools import cached_property
from pathlib import Path

from app.store.db import Database
from tests.commands.program import PROGRAM, HeavySpot

LONGEST_START_SECONDS = 60
READY = "Ctrl-C"


class Server:
    """`heavyspot serve` on one data folder; what it prints goes to a file, so it never waits for a reader."""

    def __init__(self, folder: Path) -> None:
        self.program = HeavySpot(folder / "data")
        self.printed = folder / "server.log"
        self.port = 0
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        """Without a slash at its end."""
        return f"http://127.0.0.1:{self.port}"

    @cached_property
    def database(self) -> Database:
        """The server's own database file, for a test to look into."""
        return Database(f"sqlite:///{self.program.database_file}")

    @property
    def said(self) -> str:
        return self.printed.read_text(encoding="utf-8")

    @property
    def setup_link(self) -> str:
        (link,) = re.findall(r"http://\S+/setup/\S+", self.said)
        return str(link)

    def start(self) -> None:
        """Start, at the address it had before if it had one, and wait until it listens."""
        with self.printed.open("ab") as log:
            from_here = log.tell()
            self._process = subprocess.Popen(
                [PROGRAM, "serve", "--port", str(self.port)],
                env=self.program.environ,
                stdout=log,
                stderr=subprocess.STDOUT,
            )
        until = time.monotonic() + LONGEST_START_SECONDS
        while READY not in self.said[from_here:]:
            assert self._process.poll() is None, f"the server ended before it served:\n{self.said}"
            assert time.monotonic() < until, f"the server has not started in time:\n{self.said}"
            time.sleep(0.02)
        found = re.search(r"http://127\.0\.0\.1:(\d+)/", self.said)
        assert found, self.said
        self.port = int(found[1])

    def kill(self) -> None:
        """End the process at once: it can finish nothing and say nothing (SIGKILL)."""
        assert self._process
        self._process.kill()
        self._process.wait()

    def close(self) -> None:
        """End it, and fail if it ever met an error that it did not expect."""
        self.kill()
        if "database" in self.__dict__:
            self.database.close()
        assert "Traceback" not in self.said, self.said
