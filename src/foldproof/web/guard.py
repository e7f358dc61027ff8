"""Who may ask the workbench: this machine, or those who were given the code; never another page in the browser.

* A request must be for a name this machine gave itself. So a name that somebody points at this machine (rebinding)
  is answered with nothing.
* What changes anything must come from a page of ours, by its origin, and be JSON or a file, which no form of another
  site can send unasked.
* From another device a cookie is needed, which is given once for the code that the maker's own screen shows.
"""

from __future__ import annotations

import hmac
import ipaddress
import secrets

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from foldproof.web.answers import MISDIRECTED, REFUSED, problem, problems_answer

COOKIE = "foldproof_guest"
JOIN = "/join"
CODE_DIGITS = 8
MOST_TRIES = 10  # wrong codes before sharing ends: one in ten million
OPEN_TO_GUESTS = ("/static/", "/fonts/")  # what the page that asks for the code is made of
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = (
    ("content-security-policy", POLICY),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
)
SAFE = ("GET", "HEAD")
KINDS = ("application/json", "application/octet-stream")  # what our pages send, and no form can


class Sharing:
    """What is shared with the local network: nothing, or some addresses and a code that lets one device in.

    ``guests`` are the cookies of devices that were let in. A code that was used is replaced. ``ended``: wrong codes
    ended it, which the maker is told.
    """

    def __init__(self) -> None:
        self.hosts: tuple[str, ...] = ()
        self.code = ""
        self.guests: set[str] = set()
        self.tries = 0
        self.ended = False

    @property
    def open(self) -> bool:
        """Is anything shared?"""
        return bool(self.hosts)

    def begin(self, hosts: tuple[str, ...]) -> None:
        """Shares under these addresses, with a new code."""
        self.hosts, self.tries, self.ended = hosts, 0, False
        self.code = new_code()

    def end(self) -> None:
        """Shares nothing any more; devices that were let in are out."""
        self.hosts, self.code = (), ""
        self.guests.clear()

    def let_in(self, code: str) -> str | None:
        """A cookie for the right code, which then changes; None for a wrong one. Too many wrong ones end sharing."""
        if not self.open or not hmac.compare_digest(code.encode("utf-8", "replace"), self.code.encode()):
            self.tries += 1
            if self.open and self.tries >= MOST_TRIES:
                self.end()
                self.ended = True
            return None
        self.tries, self.code = 0, new_code()
        guest = secrets.token_urlsafe(24)
        self.guests.add(guest)
        return guest


def new_code() -> str:
    """Eight digits, by chance."""
    return f"{secrets.randbelow(10**CODE_DIGITS):0{CODE_DIGITS}d}"


class Guard:
    """Lets through what may be asked, and adds the headers that keep a page of ours to itself."""

    def __init__(self, app: ASGIApp, *, own_hosts: tuple[str, ...], sharing: Sharing) -> None:
        self._app, self._own_hosts, self._sharing = app, own_hosts, sharing

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS:
                    headers.setdefault(name, value)
            await send(message)

        refused = self._refused(Request(scope))
        if refused is not None:
            await refused(scope, receive, guarded)
        else:
            await self._app(scope, receive, guarded)

    def _refused(self, request: Request) -> Response | None:
        """Why a request is not let through, or None."""
        host = request.headers.get("host", "").lower()
        own = host in self._own_hosts
        if not own and host not in self._sharing.hosts:
            return _no(MISDIRECTED, "host", host)
        if request.method not in SAFE and not _from_our_page(request.headers, host):
            return _no(REFUSED, "origin", request.headers.get("origin", ""))
        if request.method not in SAFE and _kind(request.headers) not in KINDS:
            return _no(REFUSED, "request", _kind(request.headers))
        if own and _is_here(request):
            return None
        path = request.url.path
        if path in (JOIN, f"{JOIN}/in") or path.startswith(OPEN_TO_GUESTS):
            return None
        if request.cookies.get(COOKIE, "") in self._sharing.guests:
            return None
        if request.method == "GET" and "text/html" in request.headers.get("accept", ""):
            return RedirectResponse(JOIN, status_code=303)
        return _no(REFUSED, "guest")


def is_own(request: Request, own_hosts: tuple[str, ...]) -> bool:
    """Is it asked from this machine itself? Only here sharing can be begun."""
    return request.headers.get("host", "").lower() in own_hosts and _is_here(request)


def _is_here(request: Request) -> bool:
    """Does it come over the loopback?"""
    if request.client is None:
        return False
    try:
        return ipaddress.ip_address(request.client.host).is_loopback
    except ValueError:
        return False


def _from_our_page(headers: Headers, host: str) -> bool:
    same_site = headers.get("sec-fetch-site", "same-origin") == "same-origin"
    return same_site and headers.get("origin", "") == f"http://{host}"


def _kind(headers: Headers) -> str:
    return headers.get("content-type", "").partition(";")[0].strip().lower()


def _no(status: int, key: str, value: str = "") -> Response:
    return problems_answer((problem(key, value),), status)
