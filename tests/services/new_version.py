"""A new version of a shipped scenario, for the tests of moving work to it."""

from datetime import datetime
from pathlib import Path

from app.services import scenarios
from app.settings import SCENARIOS
from app.store.db import Database


def new_version(
    database: Database,
    folder: Path,
    now: datetime,
    *changes: tuple[str, str],
    slug: str = "two-plane-balance",
) -> None:
    """Load the scenario with these texts replaced; each must be there."""
    text = (SCENARIOS / slug / "scenario.toml").read_text()
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    (folder / slug).mkdir(exist_ok=True)
    (folder / slug / "scenario.toml").write_text(text)
    assert scenarios.load_shipped(database, folder=folder, now=now) == 1
