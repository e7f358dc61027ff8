"""Everything a maker keeps: the list, beginning something new, copying, putting away, bringing in and sending out."""

from __future__ import annotations

import json
import secrets
from typing import Any, Literal

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from foldproof.design.workbench.sentence import families
from foldproof.service.keeping import reading, sending, shelving
from foldproof.service.starting import example_text, file_name
from foldproof.service.workbench import beginning
from foldproof.service.world import now
from foldproof.web.answers import answer, body_of, bytes_answer, json_of, refused
from foldproof.web.app import Bench
from foldproof.web.page_home import home_page

JOBS = "foldproof.service.workbench.jobs"
MOST_FILE_BYTES = 20_000_000  # a project with its whole history
MOST_NAME = 300

Fields = dict[str, Any]


class Home:
    """The page of everything kept."""

    def __init__(self, bench: Bench) -> None:
        self.folder = bench.settings.projects
        self.works = bench.works
        self.language = bench.language

    def told(self) -> Fields:
        """What the page shows."""
        kept = reading.kept(self.folder)
        removed = shelving.removed(self.folder)
        return {
            "kept": [
                {
                    "id": each.id,
                    "name": each.name,
                    "changed": each.changed,
                    "version": each.version,
                    "archived": each.archived,
                    "verdict": each.verdict,
                    "trouble": each.trouble,
                }
                for each in kept
            ],
            "bin": [{"bin_id": each.bin_id, "name": each.name, "when": each.when} for each in removed],
            "families": families(),
            "examples": [{"id": each, "name": name} for each, name in beginning.examples()],
            "unit": "in",
        }

    async def page(self, request: Request) -> Response:
        """The page."""
        return HTMLResponse(home_page(await run_in_threadpool(self.told)))

    async def now(self, request: Request) -> Response:
        """What it shows, as it is now."""
        return answer(await run_in_threadpool(self.told))

    async def begin(self, request: Request) -> Response:
        """A new project, of a family, an example, or the tour's."""
        data = await json_of(request)
        unit = _unit(data.get("unit", "in"))
        name = str(data.get("name", "")).strip()[:MOST_NAME]
        match data.get("from"):
            case "construction":
                text = beginning.family_text(str(data.get("construction", "")), unit, name)
            case "example":
                text = example_text(str(data.get("example", "")))
            case "tour":
                text = beginning.tour_text(unit)
            case other:
                raise refused("from", str(other))
        return answer({"id": await run_in_threadpool(lambda: shelving.start(self.folder, text, when=now()))})

    async def copy(self, request: Request) -> Response:
        """Another project with the same values."""
        project_id = request.path_params["id"]
        kept = await run_in_threadpool(reading.open_kept, self.folder, project_id)
        name = self.language.workbench.copy_name.format(name=kept.name)[:MOST_NAME]
        return answer({"id": await run_in_threadpool(lambda: shelving.copy(self.folder, project_id, name, when=now()))})

    async def archive(self, request: Request) -> Response:
        """Puts it away."""
        await run_in_threadpool(lambda: shelving.archive(self.folder, request.path_params["id"], when=now()))
        return answer({})

    async def restore(self, request: Request) -> Response:
        """Takes it out again."""
        await run_in_threadpool(lambda: shelving.restore(self.folder, request.path_params["id"], when=now()))
        return answer({})

    async def remove(self, request: Request) -> Response:
        """Puts it into the bin."""
        await run_in_threadpool(lambda: shelving.remove(self.folder, request.path_params["id"], when=now()))
        return answer({})

    async def take_back(self, request: Request) -> Response:
        """Takes it out of the bin."""
        found = await run_in_threadpool(lambda: shelving.take_back(self.folder, request.path_params["id"], when=now()))
        return answer({"id": found})

    async def send(self, request: Request) -> Response:
        """One file with the project and its whole history."""
        project_id = request.path_params["id"]
        data = await run_in_threadpool(lambda: sending.send_out(self.folder, project_id, with_history=True))
        kept = await run_in_threadpool(reading.open_kept, self.folder, project_id)
        name = file_name(kept.name).removesuffix(".toml") + ".zip"
        return bytes_answer(data, "application/zip", name=name)

    async def bring_in(self, request: Request) -> Response:
        """A project from a file. It is read in another process, which is ended when it takes too long."""
        data = await body_of(request, MOST_FILE_BYTES)
        told = json.dumps([str(self.folder), now(), secrets.token_hex(8)])  # asked twice, it is brought in twice
        found = await self.works.run(f"{JOBS}:bring_in", f"{told}\n".encode() + data)
        return answer({"id": found.decode()})


def _unit(given: object) -> Literal["in", "cm"]:
    if given not in ("in", "cm"):
        raise refused("unit", str(given))
    return "cm" if given == "cm" else "in"


def routes(bench: Bench) -> list[Route]:
    """The routes of the page of everything kept."""
    home = Home(bench)
    done = {
        "/copy": home.copy,
        "/archive": home.archive,
        "/restore": home.restore,
        "/remove": home.remove,
        "/take-back": home.take_back,
    }
    return [
        Route("/", home.page),
        Route("/api/home", home.now),
        Route("/api/projects", home.begin, methods=["POST"]),
        Route("/api/bring-in", home.bring_in, methods=["POST"]),
        Route("/api/p/{id}/send", home.send),
        *(Route(f"/api/p/{{id}}{path}", call, methods=["POST"]) for path, call in done.items()),
    ]
