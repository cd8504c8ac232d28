"""The set-up commands' virtual environment, `.venv`, with Heavy Spot in it. Standard library only.

A bare Debian has Python and pip but no `ensurepip`, so a new environment may have no pip of its own; then the
pip of the Python that runs this script installs into it (`pip --python`, pip 22.3 or newer).
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
STAMP = VENV / "heavyspot-installed"

OLDEST_PYTHON = (3, 11)
OLDEST_PIP_WITH_PYTHON_OPTION = (22, 3)


class SetUpError(Exception):
    """Something that the person at the keyboard has to do first; the message says what."""


def prepare(extra: str = "") -> None:
    """Makes `.venv` and installs Heavy Spot into it, with the optional dependencies `extra`.

    Does nothing when that was done before and pyproject.toml is the same. Raises SetUpError.
    """
    if sys.version_info < OLDEST_PYTHON:
        raise SetUpError(
            f"Heavy Spot needs Python 3.11 or newer and this is {sys.version.split()[0]}. "
            "Run this command with a newer one, for example: python3.11 " + " ".join(sys.argv)
        )
    if not works():
        make_virtual_environment()
    if not is_installed(extra):
        install(extra)


def works() -> bool:
    """Whether `.venv` has a Python that starts: it does not when the Python it was made from is gone."""
    if not PYTHON.exists():
        return False
    probe = [str(PYTHON), "-c", f"import sys; sys.exit(sys.version_info < {OLDEST_PYTHON})"]
    return subprocess.run(probe, capture_output=True, check=False).returncode == 0


def make_virtual_environment() -> None:
    say(f"Making a virtual environment in {VENV}")
    pip = [] if importlib.util.find_spec("ensurepip") else ["--without-pip"]
    if pip:
        check_own_pip()
    if VENV.exists():
        shutil.rmtree(VENV)
    run([sys.executable, "-m", "venv", *pip, str(VENV)], "The virtual environment could not be made.")


def check_own_pip() -> None:
    """Raises SetUpError unless this Python has a pip that can install into another Python's environment."""
    remedy = "Install it, then run this command again. On Debian: apt-get install python3-pip"
    try:
        version = importlib.metadata.version("pip")
    except importlib.metadata.PackageNotFoundError:
        raise SetUpError(f"This Python has neither ensurepip nor pip. {remedy}") from None
    if tuple(int(part) for part in version.split(".")[:2]) < OLDEST_PIP_WITH_PYTHON_OPTION:
        raise SetUpError(f"This Python has pip {version} and Heavy Spot needs 22.3 or newer. {remedy}")


def program(name: str) -> Path:
    """A program that a package put into `.venv`."""
    return PYTHON.with_name(f"{name}.exe" if os.name == "nt" else name)


def wanted_stamp() -> str:
    return hashlib.sha256((ROOT / "pyproject.toml").read_bytes()).hexdigest()


def is_installed(extra: str) -> bool:
    """The stamp holds the digest of the installed pyproject.toml, then the extras that came with it."""
    if not STAMP.exists():
        return False
    stamp, *extras = STAMP.read_text().split()
    return stamp == wanted_stamp() and (not extra or extra in extras)


def install(extra: str) -> None:
    say("Installing what Heavy Spot stands on (once; this takes a minute or two)")
    STAMP.unlink(missing_ok=True)
    if has_pip(PYTHON):
        pip = [str(PYTHON), "-m", "pip"]
    else:
        check_own_pip()
        pip = [sys.executable, "-m", "pip", "--python", str(PYTHON)]
    project = f".[{extra}]" if extra else "."
    run(
        [*pip, "install", "--quiet", "--disable-pip-version-check", "--editable", project],
        "pip could not install the packages; its own message stands above. "
        "The first run needs a connection to a package index.",
    )
    # What pip installs it compiles too, except what stays where it is: then the first start would have to.
    run([str(PYTHON), "-m", "compileall", "-q", "app"], "Heavy Spot's files could not be compiled.")
    STAMP.write_text(f"{wanted_stamp()} {extra}\n")


def has_pip(python: Path) -> bool:
    probe = [str(python), "-m", "pip", "--version"]
    return subprocess.run(probe, capture_output=True, check=False).returncode == 0


def say(message: str) -> None:
    print(message, flush=True)


def run(command: list[str], failure: str) -> None:
    """Runs a program in the project's folder and lets it print. Raises SetUpError(failure) when it fails."""
    try:
        status = subprocess.run(command, cwd=ROOT, check=False).returncode
    except OSError as error:
        raise SetUpError(f"{failure} ({error})") from error
    if status:
        raise SetUpError(failure)


def become(*command: str | Path) -> int:
    """Runs a program in this one's place, so that Ctrl-C and a stop signal reach it."""
    if os.name != "nt":
        sys.stdout.flush()
        os.chdir(ROOT)
        os.execv(command[0], command)  # noqa: S606 -- no shell is wanted
    process = subprocess.Popen(command, cwd=ROOT)
    while True:
        try:
            return process.wait()
        except KeyboardInterrupt:  # the program got it too and is closing down
            continue
