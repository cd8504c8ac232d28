"""Several worker processes for a school's server, by gunicorn. They share nothing but the database."""

import os
import socket
from typing import Any

from gunicorn.app.base import BaseApplication
from werkzeug.middleware.proxy_fix import ProxyFix

from app.commands.serving import lasting_app
from app.settings import Settings

THREADS = 4
SECONDS_FOR_A_REQUEST = 60  # a packet of a whole school's sheets takes a few


class Workers(BaseApplication):  # type: ignore[misc] # gunicorn is written without types
    """Listens on a socket that is open already; each worker makes an application of its own."""

    def __init__(self, settings: Settings, listener: socket.socket, workers: int) -> None:
        self._settings = settings
        self._options: dict[str, Any] = {
            "bind": f"fd://{os.dup(listener.fileno())}",  # gunicorn closes what it is given
            "workers": workers,
            "threads": THREADS,
            "timeout": SECONDS_FOR_A_REQUEST,
            "loglevel": "warning",
            # It listens on this machine alone, so what comes in comes through the TLS server here.
            "forwarded_allow_ips": "127.0.0.1",
        }
        super().__init__()

    def load_config(self) -> None:
        for name, value in self._options.items():
            self.cfg.set(name, value)

    def load(self) -> Any:
        app = lasting_app(self._settings)
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=0, x_proto=1, x_host=1)  # type: ignore[method-assign]
        return app


def run(settings: Settings, listener: socket.socket, workers: int) -> None:
    """Serve until Ctrl-C or a stop signal."""
    Workers(settings, listener, workers).run()
