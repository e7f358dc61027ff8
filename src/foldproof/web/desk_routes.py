"""The design page: what it shows, every change to it, its proof, and going back and forth in what was done."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, get_args

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from foldproof.checks.proof import Verdict
from foldproof.errors import InputError, wrong
from foldproof.project.read import read_project
from foldproof.project.write import with_change
from foldproof.service.keeping import reading, saving, shelving
from foldproof.service.keeping.records import Clashed, KeptText, Saved
from foldproof.service.world import now
from foldproof.teach import wording_workbench as words
from foldproof.web.answers import CLASH, answer, bytes_answer, json_of
from foldproof.web.app import Bench
from foldproof.web.page_desk import desk_page
from foldproof.web.page_home import notes_page, resize_page

JOBS = "foldproof.service.workbench.jobs"
MOST_CHANGES = 100  # in one edit: a mend has a few
MOST_TEXT = 2000  # characters of one value: a list of grooves is the longest
JSON = "application/json"

Fields = dict[str, Any]


class Desk:
    """The design pages of one workbench."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.folder = bench.settings.projects

    async def opened(self, request: Request) -> KeptText:
        """The project that an address names, as it stands."""
        return await run_in_threadpool(reading.open_kept, self.folder, request.path_params["id"])

    async def at(self, request: Request) -> tuple[str, int, str]:
        """Id, version and text that a question is about: the version asked for, or the newest."""
        project_id = request.path_params["id"]
        asked = request.query_params.get("version", "")
        if asked.isdigit():
            return project_id, int(asked), await run_in_threadpool(reading.text_of, self.folder, project_id, int(asked))
        kept = await self.opened(request)
        return project_id, kept.version, kept.text

    async def state(self, kept: KeptText, merged: tuple[str, ...] = ()) -> Fields:
        """Everything the page shows at once of a project as it stands."""
        told = await self.bench.works.run(f"{JOBS}:state", kept.text.encode(), topic=f"state {kept.id}")
        versions = await run_in_threadpool(reading.versions, self.folder, kept.id)
        notes = [
            {"version": each.number, "when": each.when, "what": "; ".join(each.what), "current": each.current}
            for each in reversed(versions)
        ]
        state: Fields = json.loads(told)
        return state | {
            "id": kept.id,
            "version": kept.version,
            "saved_at": kept.changed,
            "notes": notes,
            "can_undo": kept.can_undo,
            "can_redo": kept.can_redo,
            "merged": list(merged),
        }

    # --- Pages ----------------------------------------------------------------------------------------------

    async def page(self, request: Request) -> Response:
        """The design page."""
        kept = await self.opened(request)
        return HTMLResponse(desk_page(kept.id, await self.state(kept)))

    async def notes(self, request: Request) -> Response:
        """The page of every version."""
        kept = await self.opened(request)
        state = await self.state(kept)
        return HTMLResponse(notes_page(kept.id, str(state["name"]), state["notes"]))

    async def resize(self, request: Request) -> Response:
        """The page on which it is made in another size."""
        kept = await self.opened(request)
        return HTMLResponse(resize_page(kept.id, await self.state(kept)))

    # --- Questions ------------------------------------------------------------------------------------------

    async def now(self, request: Request) -> Response:
        """The state as it stands."""
        return answer(await self.state(await self.opened(request)))

    async def proof(self, request: Request) -> Response:
        """The proof of a version."""
        told, _ = await self._proved(request)
        return bytes_answer(told, JSON)

    async def model(self, request: Request) -> Response:
        """The folded model of a version."""
        _, model = await self._proved(request)
        return bytes_answer(model, JSON)

    async def _proved(self, request: Request) -> tuple[bytes, bytes]:
        project_id, version, text = await self.at(request)
        told = await self.bench.works.run(f"{JOBS}:proved", text.encode(), topic=f"proof {project_id}")
        proof, _, model = told.partition(b"\n")
        await self._note(project_id, version, str(json.loads(proof)["verdict"]))
        return proof, model

    async def _note(self, project_id: str, version: int, verdict: str) -> None:
        """Keeps a verdict for the list of projects."""
        known = next((each for each in get_args(Verdict) if each == verdict), None)
        if known is not None:
            await run_in_threadpool(
                lambda: saving.note_verdict(self.folder, project_id, version, known, when=now())
            )

    async def mends(self, request: Request) -> Response:
        """What would mend a version."""
        project_id, version, text = await self.at(request)
        told = await self.bench.works.run(f"{JOBS}:mends", text.encode(), topic=f"mends {project_id}")
        return answer({"version": version, "mends": json.loads(told)})

    async def range(self, request: Request) -> Response:
        """How far a length can go in this design."""
        project_id, _, text = await self.at(request)
        path = request.query_params.get("path", "")[:MOST_TEXT].replace("\n", " ")
        asked = f"{path}\n{text}".encode()
        told = await self.bench.works.run(f"{JOBS}:length_range", asked, topic=f"range {project_id}")
        return bytes_answer(told, JSON)

    async def picture(self, request: Request) -> Response:
        """A picture of the finished thing."""
        _, _, text = await self.at(request)
        told = await self.bench.works.run(f"{JOBS}:picture", text.encode())
        return bytes_answer(told.partition(b"\n")[2] or EMPTY_PICTURE, "image/svg+xml")

    async def verdict(self, request: Request) -> Response:
        """The verdict of a version, without anything else."""
        project_id, version, text = await self.at(request)
        told = (await self.bench.works.run(f"{JOBS}:picture", text.encode())).partition(b"\n")[0].decode()
        await self._note(project_id, version, told)
        return answer({"verdict": told})

    async def compare(self, request: Request) -> Response:
        """Two versions: each value that differs, and both as the page shows them."""
        project_id = request.path_params["id"]
        one, other = (_number(request.query_params.get(key)) for key in ("a", "b"))
        pairs = await run_in_threadpool(reading.compare, self.folder, project_id, one, other)
        sides = []
        for version in (one, other):
            text = await run_in_threadpool(reading.text_of, self.folder, project_id, version)
            told = json.loads(await self.bench.works.run(f"{JOBS}:state", text.encode()))
            sides.append({"version": version, "sentence": told["sentence"], "sheets": told["sheets"]})
        told_pairs = [{"label": each.label, "a": each.before or "", "b": each.after or ""} for each in pairs]
        return answer({"pairs": told_pairs, "a": sides[0], "b": sides[1]})

    # --- Changes --------------------------------------------------------------------------------------------

    async def edit(self, request: Request) -> Response:
        """Changes values. Nothing is kept of a change that cannot be."""
        project_id = request.path_params["id"]
        data = await json_of(request)
        version = _number(data.get("version"))
        changes = _changes(data.get("changes"))
        text = await run_in_threadpool(reading.text_of, self.folder, project_id, version)
        for path, value in changes:
            text = with_change(text, path, value)
        await run_in_threadpool(read_project, text)
        return await self._saved(
            project_id, lambda: saving.save(self.folder, project_id, text, version, when=now()), dict(changes)
        )

    async def in_another_size(self, request: Request) -> Response:
        """A new project of the same series: the design with other lengths and another name."""
        data = await json_of(request)
        kept = await self.opened(request)
        text = kept.text
        for path, value in [("name", str(data.get("name", ""))[:MOST_TEXT]), *_changes(data.get("changes"))]:
            text = with_change(text, path, value)
        await run_in_threadpool(read_project, text)
        what = words.SIZED_FROM.format(name=kept.name)
        new = await run_in_threadpool(lambda: shelving.start(self.folder, text, when=now(), what=what))
        return answer({"id": new})

    async def rename(self, request: Request) -> Response:
        """Gives the project another name."""
        project_id = request.path_params["id"]
        name = str((await json_of(request)).get("name", ""))
        return await self._saved(
            project_id, lambda: saving.rename(self.folder, project_id, name, when=now()), {"name": name}
        )

    async def undo(self, request: Request) -> Response:
        """Takes the last change back."""
        return await self._moved(request, saving.undo)

    async def redo(self, request: Request) -> Response:
        """Makes it again."""
        return await self._moved(request, saving.redo)

    async def go_to(self, request: Request) -> Response:
        """Goes back to any version."""
        project_id = request.path_params["id"]
        number = _number((await json_of(request)).get("version"))
        kept = await self.opened(request)
        return await self._saved(
            project_id, lambda: saving.go_to(self.folder, project_id, number, kept.version, when=now()), {}
        )

    async def _moved(self, request: Request, move: Callable[..., Saved]) -> Response:
        project_id = request.path_params["id"]
        version = _number((await json_of(request)).get("version"))
        return await self._saved(project_id, lambda: move(self.folder, project_id, version, when=now()), {})

    async def _saved(
        self, project_id: str, keep: Callable[[], Saved | Clashed], mine: dict[str, str]
    ) -> Response:
        """The state after a change was kept; with 409 what clashes with a change made elsewhere meanwhile."""
        done = await run_in_threadpool(keep)
        kept = await run_in_threadpool(reading.open_kept, self.folder, project_id)
        if isinstance(done, Clashed):
            clash = [
                {"field": each.path, "mine": each.mine or "", "theirs": each.theirs or ""} for each in done.clashes
            ]
            state = await self.state(kept)
            if not clash:
                raise InputError(done.problems)
            return answer({"clash": clash, "state": state}, CLASH)
        return answer(await self.state(kept, done.what if done.merged else ()))


EMPTY_PICTURE = b'<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="96mm" viewBox="0 0 120 96"/>'


def _number(value: object) -> int:
    """A version's number. Raises InputError for what is none."""
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    if isinstance(value, str) and value.isdigit() and len(value) < 10:
        return int(value)
    raise wrong("version", str(value)[:40], "is no number of a version", "load the page again")


def _changes(given: object) -> list[tuple[str, str]]:
    """Paths and values as they were sent. Raises InputError for anything else."""
    if not isinstance(given, list) or not 0 < len(given) <= MOST_CHANGES:
        raise wrong("changes", "", "is no list of changes", "load the page again")
    found = []
    for each in given:
        path, value = (each.get("path"), each.get("value")) if isinstance(each, dict) else (None, None)
        if not isinstance(path, str) or not isinstance(value, str | int | float) or isinstance(value, bool):
            raise wrong("changes", "", "holds something that is no change", "load the page again")
        if len(path) > MOST_TEXT or len(str(value)) > MOST_TEXT:
            raise wrong(path[:80], str(value)[:80], "is too long", "write something shorter")
        found.append((path, str(value)))
    return found


def routes(bench: Bench) -> list[Route]:
    """The routes of the design pages."""
    desk = Desk(bench)
    asked = {
        "": desk.now,
        "/proof": desk.proof,
        "/model": desk.model,
        "/mends": desk.mends,
        "/range": desk.range,
        "/picture.svg": desk.picture,
        "/verdict": desk.verdict,
        "/compare": desk.compare,
    }
    done = {
        "/edit": desk.edit,
        "/undo": desk.undo,
        "/redo": desk.redo,
        "/rename": desk.rename,
        "/go-to": desk.go_to,
        "/resize": desk.in_another_size,
    }
    return [
        Route("/p/{id}", desk.page),
        Route("/p/{id}/notes", desk.notes),
        Route("/p/{id}/resize", desk.resize),
        *(Route(f"/api/p/{{id}}{path}", call) for path, call in asked.items()),
        *(Route(f"/api/p/{{id}}{path}", call, methods=["POST"]) for path, call in done.items()),
    ]
