"""Debian's packages, for programs that pip can't bring. Standard library only."""

from __future__ import annotations

import os
import platform
import shutil
import subprocess
import sys

from environment import run, say


def install(package: str, purpose: str) -> bool:
    """Installs a package where this is Debian and we may. Returns whether it did. Raises SetUpError."""
    apt_get = how_to_call_apt_get()
    if not apt_get:
        return False
    say(f"Installing {package} {purpose} (once)")
    run([*apt_get, "update", "-qq"], "apt-get update failed; its own message stands above.")
    run(
        [*apt_get, "install", "-qq", "--no-install-recommends", package],
        f"{package} could not be installed. Install it by hand: apt-get install {package}",
    )
    return True


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
