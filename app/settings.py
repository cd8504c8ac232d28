"""Settings, read once from the environment and checked at start. No other room reads the environment.

Nothing here opens the database: a wrong setting is found before anything is touched.
"""

import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path

PROJECT_ROOT = Path(__file__).resolve().parent.parent
MIGRATIONS = PROJECT_ROOT / "migrations"
SCENARIOS = PROJECT_ROOT / "scenarios"
TEMPLATES = PROJECT_ROOT / "templates"
STATIC = PROJECT_ROOT / "static"

DATABASE_FILE = "heavyspot.db"
SECRET_KEY_FILE = "secret_key"  # noqa: S105 a file's name
SHORTEST_SECRET_KEY = 32


class SettingsError(ValueError):
    """A setting that the program can't start with; names the setting and says what to do."""

    def __init__(self, setting: str, message: str) -> None:
        super().__init__(f"{setting}: {message}")
        self.setting = setting


@dataclass(frozen=True, kw_only=True)
class Settings:
    data_folder: Path
    database_url: str
    secret_key: str = field(repr=False)

    @classmethod
    def from_environment(cls, environ: Mapping[str, str] = os.environ) -> "Settings":
        """Read HEAVYSPOT_DATA, HEAVYSPOT_DATABASE_URL and HEAVYSPOT_SECRET_KEY; make the data folder and
        the key when they are missing. Raises SettingsError."""
        data_folder = _data_folder(environ.get("HEAVYSPOT_DATA") or "instance")
        return cls(
            data_folder=data_folder,
            database_url=_database_url(environ.get("HEAVYSPOT_DATABASE_URL"), data_folder),
            secret_key=_secret_key(environ.get("HEAVYSPOT_SECRET_KEY"), data_folder),
        )


def _data_folder(text: str) -> Path:
    folder = Path(text).expanduser().resolve()
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise SettingsError(
            "HEAVYSPOT_DATA", f"the folder {folder} can't be made ({error.strerror}). Name another folder."
        ) from error
    if not os.access(folder, os.W_OK | os.X_OK):
        raise SettingsError(
            "HEAVYSPOT_DATA",
            f"the folder {folder} can't be written to. Change its permissions or name another.",
        )
    return folder


def _database_url(text: str | None, data_folder: Path) -> str:
    if not text:
        return f"sqlite:///{data_folder / DATABASE_FILE}"
    scheme, separator, rest = text.partition("://")
    if separator and scheme == "sqlite":
        if not rest.startswith("/") or rest == "/" or ":memory:" in rest:
            raise SettingsError(
                "HEAVYSPOT_DATABASE_URL", "name a file, as in sqlite:////srv/heavyspot/heavyspot.db"
            )
        return text
    if separator and scheme in {"postgresql", "postgres", "postgresql+psycopg"}:
        if find_spec("psycopg") is None:
            raise SettingsError(
                "HEAVYSPOT_DATABASE_URL", 'PostgreSQL needs one more package: pip install "psycopg[binary]"'
            )
        return f"postgresql+psycopg://{rest}"
    raise SettingsError(
        "HEAVYSPOT_DATABASE_URL", "start it with sqlite:/// or postgresql://, or leave it out to use a file"
    )


def _secret_key(text: str | None, data_folder: Path) -> str:
    if text:
        return _long_enough(text.strip(), "HEAVYSPOT_SECRET_KEY", "make it longer")
    file = data_folder / SECRET_KEY_FILE
    try:
        _keep_new_key(file)
        file.chmod(0o600)  # a key copied from elsewhere may have come with wider permissions
        key = file.read_text(encoding="ascii").strip()
    except (OSError, UnicodeError) as error:
        raise SettingsError(
            "HEAVYSPOT_SECRET_KEY",
            f"the file {file} can't be read or written ({error}). Correct it or delete it.",
        ) from error
    return _long_enough(
        key, f"HEAVYSPOT_SECRET_KEY, kept in {file}", "delete the file to have a new one made"
    )


def _keep_new_key(file: Path) -> None:
    """Write a new key unless one is there. O_EXCL: of two programs that start at once only one writes."""
    try:
        descriptor = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return
    with os.fdopen(descriptor, "w", encoding="ascii") as stream:
        stream.write(secrets.token_urlsafe(48))


def _long_enough(key: str, setting: str, remedy: str) -> str:
    if len(key) < SHORTEST_SECRET_KEY:
        raise SettingsError(setting, f"at least {SHORTEST_SECRET_KEY} characters are needed; {remedy}.")
    return key
