from pathlib import Path

import pytest

from tests.commands.program import HeavySpot


@pytest.fixture
def heavyspot(tmp_path: Path) -> HeavySpot:
    return HeavySpot(tmp_path / "data")
