"""From the command to the first page: in a new folder, where the database is made and every scenario of the
library checked, and in one that is there already."""

import os
import resource
import subprocess
import sys
import tempfile
import time
from urllib.request import urlopen

from tests.benchmarks.rows import Row

LIMIT_SECONDS = 2.0
SAYS = "Heavy Spot is at "


def rows() -> list[Row]:
    with tempfile.TemporaryDirectory() as folder:
        first = _started(folder)
        again = min(_started(folder) for _ in range(3))
    return [
        _row("first start, in an empty folder, to the first page", first),
        _row("start to the first page", again),
    ]


def _row(what: str, seconds: tuple[float, float]) -> Row:
    worked, waited = seconds
    return Row(what, waited, LIMIT_SECONDS, "s", f"of it the processors worked {worked:.2f} s")


def _started(folder: str) -> tuple[float, float]:
    """Seconds until the first page has come: those that the processors worked, and those on the wall."""
    environment = {**os.environ, "HEAVYSPOT_DATA": folder}
    command = [sys.executable, "-m", "app.cli", "serve", "--port", "0"]
    before, began = _worked(), time.perf_counter()
    with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        address = next(line for line in server.stdout if line.startswith(SAYS)).removeprefix(SAYS).strip()
        with urlopen(f"{address}/sign-in") as page:  # noqa: S310 -- an address that this test has just got
            assert page.status == 200
        waited = time.perf_counter() - began
        server.terminate()
    return _worked() - before, waited


def _worked() -> float:
    """Seconds that the processors worked for processes that have ended."""
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime
