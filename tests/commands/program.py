"""Runs the real command in a process of its own, with a data folder of its own."""

import os
import re
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

PROGRAM = Path(sys.executable).with_name("heavyspot")
LONGEST_WAIT_SECONDS = 60


@dataclass(frozen=True)
class Ended:
    status: int
    out: str
    error: str


@dataclass(frozen=True)
class Serving:
    """A server that has said where it is; `said` is all that it printed until then."""

    process: subprocess.Popen[str]
    said: str

    @property
    def address(self) -> str:
        found = re.search(r"http://[\w.]+:\d+/", self.said)
        assert found, self.said
        return found[0]


class HeavySpot:
    """The command with one data folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.working_folder: Path | None = None
        self.environ = {
            name: value for name, value in os.environ.items() if not name.startswith("HEAVYSPOT_")
        }
        self.environ["HEAVYSPOT_DATA"] = str(folder)

    @property
    def database_file(self) -> Path:
        return self.folder / "heavyspot.db"

    def run(self, *arguments: str | Path, given: str = "") -> Ended:
        ended = subprocess.run(
            [PROGRAM, *arguments],
            env=self.environ,
            cwd=self.working_folder,
            input=given,
            capture_output=True,
            text=True,
            timeout=LONGEST_WAIT_SECONDS,
            check=False,
        )
        assert "Traceback" not in ended.stderr, ended.stderr
        return Ended(ended.returncode, ended.stdout, ended.stderr)

    @contextmanager
    def serving(self, *arguments: str) -> Iterator[Serving]:
        """A command that serves, from the moment it has said so until the end of the block."""
        process = subprocess.Popen(
            [PROGRAM, *arguments],
            env=self.environ,
            cwd=self.working_folder,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        too_long = threading.Timer(LONGEST_WAIT_SECONDS, process.kill)
        too_long.start()
        try:
            assert process.stdout
            said = ""
            while "Ctrl-C" not in said:
                line = process.stdout.readline()
                assert line, f"it ended before it served: {said}"
                said += line
            yield Serving(process, said)
        finally:
            too_long.cancel()
            process.kill()
            process.communicate()
