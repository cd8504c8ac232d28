"""Where the server listens and how a tablet in the shop finds it. Nothing here sends anything to anyone."""

import errno
import io
import os
import socket

LOCAL_HOST = "127.0.0.1"
EVERY_ADDRESS = "0.0.0.0"  # noqa: S104 -- asked for with --lan

# Connecting a UDP socket sends nothing; it only asks the machine which of its own addresses it would use.
SOMEWHERE_PRIVATE = ("192.168.255.254", "10.255.255.254", "172.31.255.254")
ANY_PORT = 9


class ListenError(Exception):
    """The address can't be listened on; the message says what to do."""


def listen(host: str, port: int) -> socket.socket:
    """A socket that listens at host and port; with port 0 at a free one. Raises ListenError."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listener = socket.socket(family, socket.SOCK_STREAM)
    if os.name == "posix":  # elsewhere this option would let two servers share one port
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
        listener.listen()
    except PermissionError as error:
        listener.close()
        raise ListenError(
            f"Port {port} needs an administrator. Use one above 1023, as in --port 8000."
        ) from error
    except OSError as error:
        listener.close()
        if error.errno == errno.EADDRINUSE:
            raise ListenError(
                f"Port {port} is in use, perhaps by a Heavy Spot that is still running. "
                f"Stop that program, or use another port, as in --port {port % 65535 + 1}."
            ) from error
        raise ListenError(f"This machine has no address {host}. Leave --host out, or use --lan.") from error
    return listener


def address_on_the_network() -> str | None:
    """This machine's address on its local network, or None where it has none."""
    for elsewhere in SOMEWHERE_PRIVATE:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            try:
                probe.connect((elsewhere, ANY_PORT))
            except OSError:
                continue
            address: str = probe.getsockname()[0]
        if not address.startswith("127."):
            return address
    return None


def url(host: str, port: int) -> str:
    return f"http://[{host}]:{port}/" if ":" in host else f"http://{host}:{port}/"


def qr_code(text: str) -> str:
    """A QR code in block characters, light on dark as terminals mostly are."""
    import segno  # slow to load, and not every start prints a code

    out = io.StringIO()
    segno.make(text).terminal(out, compact=True)
    return out.getvalue()
