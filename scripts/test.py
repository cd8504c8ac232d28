"""Sets Heavy Spot up and checks everything: `python3 scripts/test.py`. Options and paths go to pytest."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import debian
import environment
from environment import PYTHON, ROOT, SetUpError, program, run, say

MOST_WORKERS = 4  # each drives a browser of its own

CHECKS: dict[str, list[str | Path]] = {
    "lint": [program("ruff"), "check", "--quiet"],
    "format": [program("ruff"), "format", "--check", "--quiet"],
    "contracts": [program("lint-imports"), "--no-logo"],
    "types": [program("mypy"), "--no-error-summary"],
    "tests": [program("pytest"), "--numprocesses=auto", f"--maxprocesses={MOST_WORKERS}", "--dist=worksteal"],
}

DEBIAN_KEEPS_POSTGRESQL_IN = Path("/usr/lib/postgresql")

WHERE_PLAYWRIGHT_KEEPS_IT = """
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    print(playwright.chromium.executable_path)
"""


def main() -> int:
    try:
        environment.prepare("test")
        ensure_browser()
        ensure_postgresql()
    except SetUpError as error:
        print(f"\n{error}", file=sys.stderr)
        return 1
    failed = [name for name, command in CHECKS.items() if not passes(name, command)]
    say(f"\nFailed: {', '.join(failed)}" if failed else "\nEverything passed.")
    return 1 if failed else 0


def passes(name: str, command: list[str | Path]) -> bool:
    say(f"== {name}")
    options = sys.argv[1:] if name == "tests" else []
    return subprocess.run([*command, *options], cwd=ROOT, check=False).returncode == 0


def ensure_browser() -> None:
    """The browser tests drive Debian's chromium, elsewhere the one playwright brings. Raises SetUpError."""
    if find_browser():
        return
    if not debian.install("chromium", "for the browser tests"):
        say("Installing a chromium for the browser tests (once)")
        run(
            [str(PYTHON), "-m", "playwright", "install", "chromium"],
            "chromium could not be installed. Install it by hand; on Debian: sudo apt-get install chromium",
        )
    if not find_browser():
        raise SetUpError("chromium was installed but is not found. Put it on the PATH, then run this again.")


def find_browser() -> str | None:
    on_the_path = shutil.which("chromium")
    if on_the_path:
        return on_the_path
    kept = subprocess.run(
        [str(PYTHON), "-c", WHERE_PLAYWRIGHT_KEEPS_IT], capture_output=True, text=True, check=False
    ).stdout.strip()
    return kept if kept and Path(kept).exists() else None


def ensure_postgresql() -> None:
    """The store's tests start a database server of their own. Raises SetUpError."""
    if not has_postgresql():
        debian.install("postgresql", "for the tests of the store")
    if not has_postgresql():
        raise SetUpError(
            "The tests start a PostgreSQL server of their own and its programs are not here. "
            "Install them so that initdb is on the PATH; on Debian: sudo apt-get install postgresql"
        )


def has_postgresql() -> bool:
    return bool(shutil.which("initdb") or list(DEBIAN_KEEPS_POSTGRESQL_IN.glob("*/bin/initdb")))


if __name__ == "__main__":
    sys.exit(main())
