"""What `serve` and `demo` share: their options, what they print, and the server's loop."""

import gc
import logging
import signal
import socket
import sys
from collections.abc import Callable
from typing import Any

import click
import waitress
from flask import Flask

from app.commands import network
from app.factory import create_app
from app.library.images import LARGEST_UPLOAD
from app.settings import Settings
from app.web.security import LIMITS

PORT = 8000
PORTS = click.IntRange(0, 65535)
THREADS = 8  # a request takes milliseconds; more threads would only wait for the same database
LARGEST_BODY = LARGEST_UPLOAD + LIMITS["MAX_CONTENT_LENGTH"]
"""Up to here the application says what is too much."""
CONNECTIONS = 400  # a class of 35 with six a browser; Windows can't watch more than 512


def options(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options --host, --port and --lan."""
    for option in (
        click.option("--lan", is_flag=True, help="Let tablets on this network in."),
        click.option("--port", type=PORTS, default=PORT, show_default=True, help="0 takes a free one."),
        click.option("--host", default=network.LOCAL_HOST, show_default=True, help="Where to listen."),
    ):
        command = option(command)
    return command


def listen(host: str, port: int, *, lan: bool) -> socket.socket:
    try:
        return network.listen(network.EVERY_ADDRESS if lan else host, port)
    except network.ListenError as error:
        raise click.ClickException(str(error)) from error


def address(listener: socket.socket) -> str:
    """The URL to print: on every address, the one that others on the network can use."""
    host, port = listener.getsockname()[:2]
    if host == network.EVERY_ADDRESS:
        host = network.address_on_the_network() or network.LOCAL_HOST
    return network.url(host, port)


def say(text: str = "") -> None:
    """Print at once, also into a pipe or a log."""
    click.echo(text)
    sys.stdout.flush()


def say_address(listener: socket.socket) -> None:
    where = address(listener)
    say(f"Heavy Spot is at {where}")
    if listener.getsockname()[0] == network.EVERY_ADDRESS:
        _say_how_tablets_get_in(where)


def _say_how_tablets_get_in(where: str) -> None:
    if network.LOCAL_HOST in where:
        say("This machine is on no network that it knows of: connect it, then start again.")
        return
    if "utf" in (sys.stdout.encoding or "").lower():
        say(network.qr_code(where))
    say(
        "Tablets on the same network open that address. It is plain http, which cannot set Secure cookies:\n"
        "use it on a network you trust, or put a server with TLS in front (see the README)."
    )


NEW_OBJECTS = 50_000
"""After how many more the garbage collector makes a round. A regrade keeps hundreds of thousands until it is
done: after every 700, as Python has it, a tenth of its time and more goes into looking them through again."""


def lasting_app(settings: Settings) -> Flask:
    """The application, left out of the garbage collector's rounds with all that it stands on: a page with
    many cells sets off several, and nothing of this is ever garbage. Nor is it looked through before: that
    takes longer than a page, for some hundred objects that could go."""
    app = create_app(settings)
    gc.freeze()
    gc.set_threshold(NEW_OBJECTS)
    return app


def run(settings: Settings, listener: socket.socket) -> None:
    """Serve until Ctrl-C or a stop signal."""
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)  # a request that waits a moment is no news
    server = waitress.create_server(
        lasting_app(settings),
        sockets=[listener],
        threads=THREADS,
        connection_limit=CONNECTIONS,
        max_request_body_size=LARGEST_BODY,
        # A TLS server on this machine may say that the browser came over https; nobody else is believed.
        trusted_proxy=network.LOCAL_HOST,
        trusted_proxy_headers={"x-forwarded-proto", "x-forwarded-host"},
        clear_untrusted_proxy_headers=True,
    )
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    say("Stop it with Ctrl-C.")
    server.run()
    server.close()
