"""Sharing with the local network: begun and ended on this machine, entered with a code on another device."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Route

from foldproof.errors import wrong
from foldproof.teach.wording_workbench import PAGE
from foldproof.web.answers import answer, json_of
from foldproof.web.app import Bench
from foldproof.web.guard import COOKIE, JOIN, is_own
from foldproof.web.html import data_tag, tag
from foldproof.web.page_desk import frame

DAY_S = 24 * 60 * 60


def routes(bench: Bench) -> list[Route]:
    """The routes of sharing."""

    def told(request: Request) -> dict[str, Any]:
        """What is shared; the code only for this machine's own screen."""
        here = is_own(request, bench.settings.own_hosts)
        sharing = bench.sharing
        addresses = [f"http://{host}{JOIN}" for host in sharing.hosts]
        return {
            "here": here,
            "open": sharing.open,
            "addresses": addresses,
            "code": sharing.code if here else "",
            "guests": len(sharing.guests),
            "picture": _code_picture(addresses[0]) if here and addresses else "",
        }

    def only_here(request: Request) -> None:
        if not is_own(request, bench.settings.own_hosts):
            raise wrong("sharing", "", "is begun and ended on the machine itself", "go to that machine")

    async def page(request: Request) -> Response:
        main = [
            tag("h1", PAGE["share_title"], class_="page-title"),
            tag("p", PAGE["share_intro"], class_="intro"),
            tag("div", id="trouble"),
            tag("div", "", id="share"),
        ]
        data = [data_tag("sharing", told(request))]
        return HTMLResponse(
            frame(title=PAGE["share_title"], main=main, modules=("share.js",), data=data, current="share")
        )

    async def now(request: Request) -> Response:
        return answer(told(request))

    async def begin(request: Request) -> Response:
        only_here(request)
        if not bench.sharing.open:
            hosts = bench.network.begin()
            if not hosts:
                raise wrong("network", "", "this machine is on no network", "join the room's network, and try again")
            bench.sharing.begin(hosts)
        return answer(told(request))

    async def end(request: Request) -> Response:
        only_here(request)
        bench.sharing.end()
        bench.network.end()
        return answer(told(request))

    async def join_page(request: Request) -> Response:
        main = [
            tag("h1", PAGE["join_title"], class_="page-title"),
            tag("p", PAGE["join_line"]),
            tag("div", id="trouble"),
            tag("div", "", id="join"),
        ]
        return HTMLResponse(frame(title=PAGE["join_title"], main=main, modules=("join.js",), data=[]))

    async def join(request: Request) -> Response:
        data = await json_of(request)
        guest = bench.sharing.let_in(str(data.get("code", "")).replace(" ", ""))
        if guest is None:
            raise wrong("code", "", "is not the code", "look at the other screen again: it may have changed")
        response = answer({"in": True})
        response.set_cookie(COOKIE, guest, max_age=DAY_S, httponly=True, samesite="strict", path="/")
        return response

    async def mark(request: Request) -> Response:
        return RedirectResponse("/static/mark.svg", status_code=308)

    return [
        Route("/share", page),
        Route("/api/share", now),
        Route("/api/share/start", begin, methods=["POST"]),
        Route("/api/share/stop", end, methods=["POST"]),
        Route(JOIN, join_page),
        Route(f"{JOIN}/in", join, methods=["POST"]),
        Route("/favicon.ico", mark),
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
