"""An acknowledged save survives the death of the server: kill -9 under traffic, again and again."""

import pytest

from tests.browser.server import Server
from tests.durability.kills import kill_again_and_again

CYCLES = 8
"""A handful; `python -m tests.durability kills` kills 300 times."""


@pytest.mark.slow
def test_what_was_acknowledged_is_there_after_every_kill(own_server: Server) -> None:
    figures = kill_again_and_again(own_server, CYCLES)
    assert figures.saves > 10 * CYCLES
    assert figures.hand_ins > CYCLES
