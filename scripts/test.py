"""Sets Heavy Spot up and checks everything: `python3 scripts/test.py`. Options and paths go to pytest."""

from __future__ import annotations

import os
import platform
import shutil
import subprocess
import sys
from pathlib import Path

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

WHERE_PLAYWRIGHT_KEEPS_IT = """
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    print(playwright.chromium.executable_path)
"""


def main() -> int:
    try:
        environment.prepare("test")
        ensure_browser()
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
    say("Installing a chromium for the browser tests (once)")
    apt_get = how_to_call_apt_get()
    if apt_get:
        run([*apt_get, "update", "-qq"], "apt-get update failed; its own message stands above.")
        run(
            [*apt_get, "install", "-qq", "--no-install-recommends", "chromium"],
            "chromium could not be installed. Install it by hand: apt-get install chromium",
        )
    else:
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


def how_to_call_apt_get() -> list[str]:
    """The start of an apt-get command on Debian, for root or for someone who may use sudo; elsewhere nothing.

    Not on Debian's descendants: there the package `chromium` may be an empty shell.
    """
    if not shutil.which("apt-get") or linux_id() != "debian":
        return []
    if os.geteuid() == 0:
        return ["env", "DEBIAN_FRONTEND=noninteractive", "apt-get"]
    if shutil.which("sudo") and ((sys.stdin and sys.stdin.isatty()) or sudo_asks_no_password()):
        return ["sudo", "DEBIAN_FRONTEND=noninteractive", "apt-get"]
    return []


def linux_id() -> str:
    try:
        return platform.freedesktop_os_release()["ID"]
    except OSError:
        return ""


def sudo_asks_no_password() -> bool:
    return subprocess.run(["sudo", "-n", "true"], capture_output=True, check=False).returncode == 0


if __name__ == "__main__":
    sys.exit(main())
