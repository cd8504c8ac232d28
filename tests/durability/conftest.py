from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser.server import Server


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[Server]:
    """A server that a test may kill and start again on the same data."""
    server = Server(tmp_path)
    server.start()
    yield server
    server.close()
