"""The long runs: `python -m tests.durability kills`, `rush` or `backups`, and how often if not as usual.

Each starts a real server on a temporary folder and ends with figures, or with the first thing that was wrong.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from rich.console import Console

from tests.browser.server import Server
from tests.durability.backing import back_up_under_load
from tests.durability.kills import kill_again_and_again
from tests.durability.rush import rush

console = Console()
EVERY = 10


def kills(server: Server, _: Path, times: int) -> object:
    return kill_again_and_again(server, times, after_each=lambda figures: say_how_far(figures.kills, figures))


def rushes(server: Server, _: Path, times: int) -> object:
    return rush(server, times, after_each=say_how_far)


def backups(server: Server, folder: Path, times: int) -> object:
    return back_up_under_load(server, folder, times, after_each=say_how_far)


RUNS: dict[str, tuple[Callable[[Server, Path, int], object], int]] = {
    "kills": (kills, 300),
    "rush": (rushes, 100),
    "backups": (backups, 100),
}


def say_how_far(done: int, figures: object = "") -> None:
    if done % EVERY == 0:
        console.print(time.strftime("%H:%M:%S"), done, figures)


def main(arguments: list[str]) -> int:
    name, *rest = arguments or [""]
    if name not in RUNS:
        sys.exit(f"Choose one of {', '.join(RUNS)}, and a number if you want another than usual.")
    run, usual = RUNS[name]
    with tempfile.TemporaryDirectory(prefix="heavyspot-durability-") as temporary:
        folder = Path(temporary)
        server = Server(folder)
        server.start()
        try:
            console.print(run(server, folder, int(rest[0]) if rest else usual))
        finally:
            server.close()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
