"""Serving the workbench: on the loopback always, on the local network while it is shared."""

from __future__ import annotations

import asyncio
import socket
import threading
import webbrowser
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import uvicorn
from starlette.types import ASGIApp

from foldproof.service.workbench.beginning import first_start
from foldproof.web.app import make_app
from foldproof.web.desk_routes import prove_newest
from foldproof.web.pages import PAGES
from foldproof.web.settings import Settings

LOOPBACK = "127.0.0.1"
USUAL_PORT = 8317
PORTS_TRIED = 20
ELSEWHERE = ("192.0.2.1", 9)  # an address of documentation (RFC 5737): asked for a way, never sent anything


class Neighbours:
    """The local network: a second server on this machine's own address, beside the first in its event loop."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._server: _Beside | None = None
        self._serving: asyncio.Task[None] | None = None
        self.app: ASGIApp | None = None

    def begin(self) -> tuple[str, ...]:
        """Answers under this machine's address too; nothing when that cannot be."""
        address = network_address()
        if address is None or self.app is None:
            return ()
        if self._server is None:
            held = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
            held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                held.bind((address, self._port))
            except OSError:
                held.close()
                return ()
            self._server = _Beside(_config(self.app, address, self._port))
            self._serving = asyncio.get_running_loop().create_task(self._server.serve(sockets=[held]))
        return (f"{address}:{self._port}",)

    def end(self) -> None:
        """Answers this machine alone."""
        if self._server is not None:
            self._server.should_exit = self._server.force_exit = True
            self._server = None


class _Beside(uvicorn.Server):
    """A server that leaves interrupts at the keyboard to the first one."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Listens to none."""
        yield


def network_address() -> str | None:
    """This machine's address on the local network, or None when it is on none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way:
        try:
            way.connect(ELSEWHERE)  # of datagrams: picks the way out, and sends nothing
        except OSError:
            return None
        found = str(way.getsockname()[0])
    return None if found.startswith("127.") or found == "0.0.0.0" else found


def free_port(wanted: int = USUAL_PORT) -> int:
    """The wanted port, or the next one that nobody holds on the loopback."""
    for port in range(wanted, wanted + PORTS_TRIED):
        with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as tried:
            tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                tried.bind((LOOPBACK, port))
            except OSError:
                continue
            return port
    raise OSError(f"no free port from {wanted} to {wanted + PORTS_TRIED - 1}")


def serve(settings: Settings, *, show: bool, ready: Callable[[str], None]) -> None:
    """Serves until it is interrupted. ``ready`` is told the address; ``show`` opens it in the browser."""
    address = f"http://{LOOPBACK}:{settings.port}/"
    first_start(settings.projects)
    network = Neighbours(settings.port)
    app = make_app(settings, PAGES, network, prove_newest)
    network.app = app
    server = _Telling(_config(app, LOOPBACK, settings.port), lambda: _ready(address, show, ready))
    server.run()


class _Telling(uvicorn.Server):
    """A server that says when it answers."""

    def __init__(self, config: uvicorn.Config, up: Callable[[], None]) -> None:
        super().__init__(config)
        self._up = up

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Starts to answer."""
        await super().startup(sockets)
        if self.started:
            self._up()


def _ready(address: str, show: bool, ready: Callable[[str], None]) -> None:
    ready(address)
    if show:
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()


def _config(app: ASGIApp, host: str, port: int) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        host=host,
        port=port,
        log_level="error",
        access_log=False,
        server_header=False,
        date_header=False,
        lifespan="on" if host == LOOPBACK else "off",
        ws="none",
        timeout_keep_alive=30,
        limit_concurrency=200,
        proxy_headers=False,
    )
