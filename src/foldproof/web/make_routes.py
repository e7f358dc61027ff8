"""The pack of a design: made in a process of its own, every page of it to look at, every file to save."""

from __future__ import annotations

import io
import json
import zipfile
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from foldproof.project.keys import TEACH_KEYS
from foldproof.project.read import read_project
from foldproof.service.keeping import reading
from foldproof.service.starting import file_name
from foldproof.web.answers import answer, bytes_answer, json_of, refused
from foldproof.web.app import Bench
from foldproof.web.long_works import Running
from foldproof.web.page_make import make_page

JOBS = "foldproof.service.workbench.jobs"
KINDS = {
    "pdf": "application/pdf",
    "html": "text/html; charset=utf-8",
    "svg": "image/svg+xml",
    "png": "image/png",
    "csv": "text/plain; charset=utf-8",
    "md": "text/plain; charset=utf-8",
    "txt": "text/plain; charset=utf-8",
    "json": "application/json",
    "toml": "text/plain; charset=utf-8",
}
# A booklet is a page of its own: it may show its own pictures and its own style, and can run nothing.
BOOKLET_POLICY = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; font-src data:; sandbox"
ALL = "all.zip"

Fields = dict[str, Any]


class Making:
    """The pages of packs."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.folder = bench.settings.projects
        self.of: dict[str, tuple[str, int]] = {}  # by work: the project and the version it is made from
        self.newest: dict[str, str] = {}  # by project: the work that was done last
        self.files: dict[str, Fields] = {}  # by work: what is in its pack

    async def page(self, request: Request) -> Response:
        """The page of one design's pack."""
        kept = await run_in_threadpool(reading.open_kept, self.folder, request.path_params["id"])
        job = self.newest.get(kept.id, "")
        work = self.bench.works.long.get(job)
        project = await run_in_threadpool(read_project, kept.text)
        data = {
            "id": kept.id,
            "version": kept.version,
            "verdict": kept.verdict,
            "teach": {"hand": project.teach.hand, "version": project.teach.version},
            "pack": await self._told(job, work) if work and work.state == "done" else None,
        }
        return HTMLResponse(make_page(kept.id, kept.name, data))

    async def begin(self, request: Request) -> Response:
        """Begins to make the pack of a design as it stands, for a hand and in a version."""
        data = await json_of(request)
        kept = await run_in_threadpool(reading.open_kept, self.folder, request.path_params["id"])
        wanted = {key.name: data[key.name] for key in TEACH_KEYS if data.get(key.name) in key.choices}
        asked = f"{json.dumps(wanted)}\n{kept.text}".encode()
        job = self.bench.works.long.start(f"{JOBS}:pack_files", asked)
        self.of[job] = (kept.id, kept.version)
        return answer({"job": job})

    async def look(self, request: Request) -> Response:
        """What the work is at."""
        job, work = self._work(request)
        told: Fields = {"state": work.state, "stage": work.stage, "done": work.done, "total": work.total}
        if work.state == "failed":
            told["why"] = "; ".join(f"{each.reason}. {each.remedy}" for each in work.problems)
        if work.state == "done":
            self.newest[self.of[job][0]] = job
            told["pack"] = await self._told(job, work)
        return answer(told)

    async def stop(self, request: Request) -> Response:
        """Ends the work; nothing of it is kept."""
        job, _ = self._work(request)
        self.bench.works.long.stop(job)
        return answer({})

    async def file(self, request: Request) -> Response:
        """A file of a pack: shown, saved with ``?save``, or one page of it as a picture with ``?page=0``."""
        job, work = self._work(request)
        path = request.path_params["path"]
        if path == ALL:
            kept = await run_in_threadpool(reading.open_kept, self.folder, self.of[job][0])
            name = file_name(kept.name).removesuffix(".toml") + "-pack.zip"
            return bytes_answer(work.result, "application/zip", name=name)
        with zipfile.ZipFile(io.BytesIO(work.result)) as packed:
            if path not in packed.namelist():
                raise refused("file/pack", path)
            data = packed.read(path)
        page = request.query_params.get("page", "")
        if page.isdigit():
            asked = json.dumps([int(page)]).encode() + b"\n" + data
            return bytes_answer(await self.bench.works.run(f"{JOBS}:page_image", asked), "image/png")
        ending = path.rpartition(".")[2]
        save = "save" in request.query_params or ending not in KINDS
        response = bytes_answer(
            data, KINDS.get(ending, "application/octet-stream"), name=path.rpartition("/")[2] if save else ""
        )
        if ending in ("html", "svg"):
            response.headers["content-security-policy"] = BOOKLET_POLICY
        return response

    def _work(self, request: Request) -> tuple[str, Running]:
        job = request.path_params["job"]
        work = self.bench.works.long.get(job)
        if work is None or job not in self.of:
            raise refused("pack")
        return job, work

    async def _told(self, job: str, work: Running) -> Fields:
        """The files of a pack, and the pages of those that have some."""
        if job not in self.files:
            files = []
            with zipfile.ZipFile(io.BytesIO(work.result)) as packed:
                for path in packed.namelist():
                    ending = path.rpartition(".")[2]
                    pages = []
                    if ending == "pdf":
                        pages = json.loads(await self.bench.works.run(f"{JOBS}:page_count", packed.read(path)))
                    files.append({"path": path, "shown": ending in KINDS, "pages": pages})
            self.files[job] = {"job": job, "version": self.of[job][1], "files": files}
        return self.files[job]


def routes(bench: Bench) -> list[Route]:
    """The routes of packs."""
    making = Making(bench)
    return [
        Route("/p/{id}/make", making.page),
        Route("/api/p/{id}/pack", making.begin, methods=["POST"]),
        Route("/api/p/{id}/pack/{job}/{path:path}", making.file),
        Route("/api/jobs/{job}", making.look),
        Route("/api/jobs/{job}/stop", making.stop, methods=["POST"]),
    ]
