"""What holds for every command."""

import pytest

from app.cli import COMMANDS
from tests.commands.program import HeavySpot


def test_the_overview_names_every_command(heavyspot: HeavySpot) -> None:
    ended = heavyspot.run("--help")
    assert ended.status == 0
    assert [name for name in COMMANDS if f"\n  {name} " not in ended.out] == []


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself_and_touches_nothing(heavyspot: HeavySpot, name: str) -> None:
    ended = heavyspot.run(name, "--help")
    assert ended.status == 0
    assert f"Usage: heavyspot {name}" in ended.out
    assert not heavyspot.folder.exists()


def test_an_unknown_command_is_refused(heavyspot: HeavySpot) -> None:
    ended = heavyspot.run("fly")
    assert ended.status == 2
    assert "No such command 'fly'" in ended.error
