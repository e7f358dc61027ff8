"""Sharing with the local network: begun and ended on this machine, entered with a code on another device."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Route

from foldproof.web.answers import answer, json_of, refused
from foldproof.web.app import Bench
from foldproof.web.frame import frame
from foldproof.web.guard import COOKIE, JOIN, is_own
from foldproof.web.html import data_tag, tag

DAY_S = 24 * 60 * 60


class Share:
    """The pages of sharing."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.sharing = bench.sharing
        self.words = bench.language.workbench.page

    def told(self, request: Request) -> dict[str, Any]:
        """What is shared; the code only for this machine's own screen."""
        here = is_own(request, self.bench.settings.own_hosts)
        addresses = [f"http://{host}{JOIN}" for host in self.sharing.hosts]
        return {
            "here": here,
            "open": self.sharing.open,
            "ended": self.sharing.ended,
            "addresses": addresses,
            "code": self.sharing.code if here else "",
            "guests": len(self.sharing.guests),
            "picture": _code_picture(addresses[0]) if here and addresses else "",
        }

    def _only_here(self, request: Request) -> None:
        if not is_own(request, self.bench.settings.own_hosts):
            raise refused("sharing")

    async def page(self, request: Request) -> Response:
        """The page on which it is begun and ended."""
        main = [
            tag("h1", self.words["share_title"], class_="page-title"),
            tag("p", self.words["share_intro"], class_="intro"),
            tag("div", id="trouble"),
            tag("div", "", id="share"),
        ]
        data = [data_tag("sharing", self.told(request))]
        return HTMLResponse(
            frame(title=self.words["share_title"], main=main, modules=("share.js",), data=data, current="share")
        )

    async def now(self, request: Request) -> Response:
        """How it stands."""
        return answer(self.told(request))

    async def begin(self, request: Request) -> Response:
        """Answers on the local network too."""
        self._only_here(request)
        if not self.sharing.open:
            hosts = self.bench.network.begin()
            if not hosts:
                raise refused("network")
            self.sharing.begin(hosts)
        return answer(self.told(request))

    async def end(self, request: Request) -> Response:
        """Answers this machine alone again, and lets out whoever was let in."""
        self._only_here(request)
        self.sharing.end()
        self.bench.network.end()
        return answer(self.told(request))

    async def join_page(self, request: Request) -> Response:
        """Where another device gives the code."""
        main = [
            tag("h1", self.words["join_title"], class_="page-title"),
            tag("p", self.words["join_line"]),
            tag("div", id="trouble"),
            tag("div", "", id="join"),
        ]
        return HTMLResponse(frame(title=self.words["join_title"], main=main, modules=("join.js",), data=[], alone=True))

    async def join(self, request: Request) -> Response:
        """Lets a device in for the right code."""
        data = await json_of(request)
        guest = self.sharing.let_in(str(data.get("code", "")).replace(" ", ""))
        if not self.sharing.open:
            self.bench.network.end()
        if guest is None:
            raise refused("code")
        response = answer({"in": True})
        response.set_cookie(COOKIE, guest, max_age=DAY_S, httponly=True, samesite="strict", path="/")
        return response


async def _mark(request: Request) -> Response:
    return RedirectResponse("/static/mark.svg", status_code=308)


def routes(bench: Bench) -> list[Route]:
    """The routes of sharing."""
    share = Share(bench)
    return [
        Route("/share", share.page),
        Route("/api/share", share.now),
        Route("/api/share/start", share.begin, methods=["POST"]),
        Route("/api/share/stop", share.end, methods=["POST"]),
        Route(JOIN, share.join_page),
        Route(f"{JOIN}/in", share.join, methods=["POST"]),
        Route("/favicon.ico", _mark),
    ]


def _code_picture(address: str) -> str:
    """The address as a code for a camera (ISO/IEC 18004), as SVG."""
    import io

    import segno

    found = io.BytesIO()
    code = segno.make(address, error="m", micro=False)
    look = {"scale": 6, "border": 4, "dark": "#23262b", "light": "#fdfcf7", "svgclass": None, "lineclass": None}
    code.save(found, kind="svg", xmldecl=False, **look)
    return found.getvalue().decode()
