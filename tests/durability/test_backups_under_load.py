"""A backup that is made while people work is whole and holds all that they had been told was saved."""

from pathlib import Path

from tests.browser.server import Server
from tests.durability.backing import back_up_under_load

BACKUPS = 6
"""`python -m tests.durability backups` makes a hundred."""


def test_every_backup_made_while_students_work_can_be_restored(own_server: Server, tmp_path: Path) -> None:
    folder = tmp_path / "backups"
    folder.mkdir()
    figures = back_up_under_load(own_server, folder, BACKUPS)
    assert figures.restored == BACKUPS
    assert figures.saves > BACKUPS
