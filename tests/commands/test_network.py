"""How the server finds its own address and shows it."""

import socket
from typing import Any

import pytest

from app.commands import network


def test_the_address_on_the_network_is_one_that_this_machine_can_listen_on() -> None:
    address = network.address_on_the_network()
    if address is not None:
        with network.listen(address, 0) as listener:
            assert listener.getsockname()[0] == address


def test_a_machine_without_any_network_has_no_address(monkeypatch: pytest.MonkeyPatch) -> None:
    def unreachable(*_: Any) -> None:
        raise OSError("Network is unreachable")

    class Unplugged(socket.socket):
        connect = unreachable

    monkeypatch.setattr(network.socket, "socket", Unplugged)
    assert network.address_on_the_network() is None


def test_two_servers_cannot_share_a_port() -> None:
    with network.listen("127.0.0.1", 0) as first:
        port = first.getsockname()[1]
        with pytest.raises(network.ListenError, match=f"Port {port} is in use"):
            network.listen("127.0.0.1", port)


def test_a_port_can_be_used_again_as_soon_as_its_server_has_stopped() -> None:
    with network.listen("127.0.0.1", 0) as first:
        port = first.getsockname()[1]
    with network.listen("127.0.0.1", port) as again:
        assert again.getsockname()[1] == port


def test_a_qr_code_is_a_square_of_block_characters() -> None:
    # ISO/IEC 18004: version 2 has 25 modules a side and a quiet zone of 4 around it; a line shows two rows.
    lines = network.qr_code("http://192.168.1.20:8000/").splitlines()
    assert {len(line) for line in lines} == {25 + 2 * 4}
    assert len(lines) == (25 + 2 * 4 + 1) // 2
