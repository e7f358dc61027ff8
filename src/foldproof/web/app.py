"""The workbench as one application: its routes, its guard, and what it computes with."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from importlib.resources import files
from typing import Protocol

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from foldproof.drawing.webfonts import WEB_FACES
from foldproof.errors import InputError, Problem
from foldproof.web.answers import BROKEN, BUSY, GONE, NOT_THERE, TOO_LARGE, WRONG, TooLarge, problem, problems_answer
from foldproof.web.frame import trouble_page
from foldproof.web.guard import Guard, Sharing
from foldproof.web.long_works import TooMany
from foldproof.web.settings import Settings
from foldproof.web.works import Superseded, TooSlow, Works
from foldproof.words.catalogue import ENGLISH, Language

KINDS = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}
READY = "foldproof.service.workbench.jobs:ready"


class Network(Protocol):
    """Answers on the local network too, once that is asked for."""

    def begin(self) -> tuple[str, ...]:
        """The addresses, with port, under which other devices find the workbench; none when there is no network."""
        ...

    def end(self) -> None:
        """Answers this machine alone again."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What every route works with."""

    settings: Settings
    works: Works
    sharing: Sharing
    network: Network
    language: Language = ENGLISH


Pages = Callable[[Bench], list[Route]]
First = Callable[[Bench], Awaitable[None]]


def make_app(settings: Settings, pages: tuple[Pages, ...], network: Network, first: First | None = None) -> Starlette:
    """The application; ``pages`` give the routes of each part of it, ``first`` is done as soon as it can answer."""
    works = Works(settings.workers, settings.seconds)
    bench = Bench(settings=settings, works=works, sharing=Sharing(), network=network)

    @asynccontextmanager
    async def life(app: Starlette) -> AsyncIterator[None]:
        warm = asyncio.create_task(_begin(bench, first))
        yield
        warm.cancel()
        bench.network.end()
        bench.works.close()

    return Starlette(
        routes=[
            Route("/static/{name}", _static),
            Route("/fonts/{name}", _font),
            *(route for make in pages for route in make(bench)),
        ],
        middleware=[Middleware(Guard, own_hosts=settings.own_hosts, sharing=bench.sharing)],
        exception_handlers={
            InputError: _wrong,
            TooLarge: _too_large,
            TooSlow: _too_slow,
            TooMany: _too_many,
            Superseded: _superseded,
            404: _nowhere,
            Exception: _broken,
        },
        lifespan=life,
    )


async def _begin(bench: Bench, first: First | None) -> None:
    await bench.works.warm(READY)
    if first is not None:
        await first(bench)


async def _static(request: Request) -> Response:
    """A style sheet, a module or a drawing of the page's own."""
    name = request.path_params["name"]
    kind = KINDS.get(name[name.rfind(".") :], "")
    source = files("foldproof.web").joinpath("static", name)
    if not kind or "/" in name or name.startswith(".") or not source.is_file():
        return await _nowhere(request, LookupError(name))
    return Response(source.read_bytes(), media_type=kind, headers={"cache-control": "no-cache"})


async def _font(request: Request) -> Response:
    """The faces the page is set in, from their packages, and the style sheet that names them."""
    name = request.path_params["name"]
    if name == "faces.css":
        return Response(_faces_css(), media_type="text/css", headers={"cache-control": "no-cache"})
    face = next((face for face in WEB_FACES if face.file == name), None)
    if face is None:
        return await _nowhere(request, LookupError(name))
    data = files(face.package).joinpath("files", face.file).read_bytes()
    return Response(data, media_type="font/ttf", headers={"cache-control": "max-age=86400"})


def _faces_css() -> str:
    names = {"serif": "Leaf Serif", "sans": "Leaf Sans"}
    return "".join(
        f'@font-face{{font-family:"{names[face.family]}";font-weight:{face.weight};font-display:block;'
        f'src:url("/fonts/{face.file}") format("truetype")}}\n'
        for face in WEB_FACES
    )


def _refusal(request: Request, problems: tuple[Problem, ...], status: int) -> Response:
    """What went wrong: as a page for one who opened an address, as data for a page's modules."""
    if request.method == "GET" and "text/html" in request.headers.get("accept", ""):
        return HTMLResponse(trouble_page(problems), status_code=status)
    return problems_answer(problems, status)


async def _wrong(request: Request, error: Exception) -> Response:
    assert isinstance(error, InputError)
    return _refusal(request, error.problems, WRONG)


async def _too_large(request: Request, error: Exception) -> Response:
    return problems_answer((problem("file/large"),), TOO_LARGE)


async def _too_slow(request: Request, error: Exception) -> Response:
    return _refusal(request, (problem("answer/slow"),), BUSY)


async def _too_many(request: Request, error: Exception) -> Response:
    return problems_answer((problem("answer/many"),), BUSY)


async def _superseded(request: Request, error: Exception) -> Response:
    return problems_answer((problem("answer/newer"),), GONE)


async def _nowhere(request: Request, error: Exception) -> Response:
    return _refusal(request, (problem("address", request.url.path),), NOT_THERE)


async def _broken(request: Request, error: Exception) -> Response:
    """A mistake of our own: it is told, and what was kept stays as it is. The server writes down what it was."""
    return _refusal(request, (problem("answer/broken"),), BROKEN)
