"""`heavyspot serve` as an instructor starts it: a real process, a real port, a folder of its own."""

import os
import re
import signal
import socket
import sqlite3
import sys
import urllib.error
import urllib.parse
import urllib.request
from pathlib import Path

import pytest

from tests.commands.program import HeavySpot


def page(url: str) -> str:
    with urllib.request.urlopen(url, timeout=20) as answer:  # noqa: S310 -- the server of this test
        assert answer.status == 200
        text: str = answer.read().decode()
        return text


def setup_links(said: str) -> list[str]:
    return re.findall(r"http://\S+/setup/\S+", said)


def number_of(heavyspot: HeavySpot, table: str) -> int:
    connection = sqlite3.connect(heavyspot.database_file)
    try:
        count: int = connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: S608 -- a fixed name
    finally:
        connection.close()
    return count


def test_an_empty_folder_gets_a_database_and_a_set_up_link_but_no_account(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("serve", "--port", "0") as server:
        (link,) = setup_links(server.said)
        assert link.startswith(server.address)
        assert "<form" in page(link)
        assert "<title>" in page(server.address)
    assert number_of(heavyspot, "person") == 0
    assert number_of(heavyspot, "scenario") > 0


def test_a_link_that_nobody_was_given_opens_nothing(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("serve", "--port", "0") as server:
        (link,) = setup_links(server.said)
        with pytest.raises(urllib.error.HTTPError) as refused:
            page(link[:-3] + "aaa")
    refused.value.close()
    assert refused.value.code == 404


def test_each_start_gives_a_new_link_and_ends_the_one_before(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("serve", "--port", "0") as server:
        (first,) = setup_links(server.said)
    with heavyspot.serving("serve", "--port", "0") as server:
        (second,) = setup_links(server.said)
        assert page(second)
        with pytest.raises(urllib.error.HTTPError) as refused:
            page(server.address + "setup/" + first.rsplit("/", 1)[1])
    refused.value.close()
    assert refused.value.code == 404


def test_with_an_instructor_there_is_no_link_and_nothing_is_loaded_twice(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("serve", "--port", "0"):
        pass
    scenarios = number_of(heavyspot, "scenario"), number_of(heavyspot, "scenario_version")
    assert heavyspot.run("person", "add-instructor", "J. Rivera", "j.rivera").status == 0
    with heavyspot.serving("serve", "--port", "0") as server:
        assert setup_links(server.said) == []
        assert "pass phrase" not in server.said.lower()
    assert number_of(heavyspot, "person") == 1
    assert (number_of(heavyspot, "scenario"), number_of(heavyspot, "scenario_version")) == scenarios


def test_a_port_in_use_is_said_and_nothing_is_made(heavyspot: HeavySpot) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]
        ended = heavyspot.run("serve", "--port", str(port))
    assert ended.status == 1
    assert f"Port {port} is in use" in ended.error
    assert "--port" in ended.error
    assert not heavyspot.database_file.exists()


def test_an_address_that_is_not_this_machines_is_said(heavyspot: HeavySpot) -> None:
    ended = heavyspot.run("serve", "--host", "192.0.2.1", "--port", "0")  # RFC 5737: nobody's address
    assert ended.status == 1
    assert "no address 192.0.2.1" in ended.error


def test_a_database_of_another_release_is_said_and_left_alone(heavyspot: HeavySpot) -> None:
    heavyspot.folder.mkdir()
    connection = sqlite3.connect(heavyspot.database_file)
    connection.execute("CREATE TABLE note (text TEXT)")
    connection.close()
    ended = heavyspot.run("serve", "--port", "0")
    assert ended.status == 1
    assert "heavyspot upgrade" in ended.error


def test_a_data_folder_that_is_a_file_is_said(heavyspot: HeavySpot) -> None:
    heavyspot.folder.write_text("not a folder")
    ended = heavyspot.run("serve", "--port", "0")
    assert ended.status == 1
    assert "HEAVYSPOT_DATA" in ended.error


def session_cookie(url: str, **headers: str) -> str:
    request = urllib.request.Request(url, headers=headers)  # noqa: S310 -- the server of this test
    with urllib.request.urlopen(request, timeout=20) as answer:  # noqa: S310
        return str(answer.headers["Set-Cookie"])


def test_a_tls_server_in_front_gets_secure_cookies_and_a_plain_browser_does_not(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("serve", "--port", "0") as server:
        (link,) = setup_links(server.said)
        assert "Secure" in session_cookie(link, **{"X-Forwarded-Proto": "https"})
        assert "Secure" not in session_cookie(link)


def test_a_body_far_over_the_limit_is_refused_before_it_is_sent(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("serve", "--port", "0") as server:
        place = urllib.parse.urlsplit(server.address)
        with socket.create_connection((place.hostname, place.port), timeout=20) as connection:
            connection.sendall(b"POST /sign-in HTTP/1.1\r\nHost: x\r\nContent-Length: 900000000\r\n\r\n")
            assert connection.recv(100).startswith(b"HTTP/1.1 413 ")


@pytest.mark.skipif(sys.platform == "win32", reason="Windows ends a process without a signal it can catch")
@pytest.mark.parametrize("stop", [signal.SIGTERM, signal.SIGINT])
def test_a_stop_signal_ends_the_server_in_order(heavyspot: HeavySpot, stop: signal.Signals) -> None:
    with heavyspot.serving("serve", "--port", "0") as server:
        page(server.address)
        os.kill(server.process.pid, stop)
        rest, _ = server.process.communicate(timeout=20)
        assert server.process.returncode == 0
        assert "Traceback" not in rest


def test_on_the_network_it_tells_tablets_the_way_and_what_plain_http_cannot_do(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("serve", "--lan", "--port", "0") as server:
        port = server.address.rsplit(":", 1)[1]
        assert page(f"http://127.0.0.1:{port}")
        if "on no network" not in server.said:
            assert page(server.address)
            assert "█" in server.said
            assert "Secure cookies" in server.said


def test_it_listens_to_this_machine_only_unless_asked(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("serve", "--port", "0") as server:
        assert server.address.startswith("http://127.0.0.1:")


def test_the_readme_folder_default_is_used_without_a_setting(heavyspot: HeavySpot, tmp_path: Path) -> None:
    del heavyspot.environ["HEAVYSPOT_DATA"]
    heavyspot.working_folder = tmp_path
    with heavyspot.serving("serve", "--port", "0"):
        assert (tmp_path / "instance" / "heavyspot.db").exists()


def test_a_nightly_backup_begins_with_a_copy_of_this_day_that_can_be_restored(
    heavyspot: HeavySpot, tmp_path: Path
) -> None:
    folder = tmp_path / "copies"
    folder.mkdir()
    with heavyspot.serving("serve", "--port", "0", "--nightly-backup", str(folder)) as server:
        assert "Backed up to" in server.said
    (copy,) = folder.iterdir()
    assert heavyspot.run("restore", copy).status == 0
    ended = heavyspot.run("serve", "--port", "0", "--nightly-backup", str(tmp_path / "absent"))
    assert ended.status == 2
    assert "absent" in ended.error


@pytest.mark.skipif(sys.platform == "win32", reason="gunicorn forks, which Windows can't")
def test_several_workers_serve_one_database_and_stop_in_order(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("serve", "--port", "0", "--workers", "2") as server:
        (link,) = setup_links(server.said)
        assert "<form" in page(link)
        assert "Secure" in session_cookie(link, **{"X-Forwarded-Proto": "https"})
        assert "Secure" not in session_cookie(link)
        os.kill(server.process.pid, signal.SIGTERM)
        rest, _ = server.process.communicate(timeout=20)
        assert server.process.returncode == 0
        assert "Traceback" not in rest


@pytest.mark.parametrize("address", [["--lan"], ["--host", "192.0.2.1"]])
def test_several_workers_are_for_this_machine_behind_tls(heavyspot: HeavySpot, address: list[str]) -> None:
    ended = heavyspot.run("serve", "--port", "0", "--workers", "2", *address)
    assert ended.status == 2
    assert "TLS" in ended.error
    assert not heavyspot.database_file.exists()
