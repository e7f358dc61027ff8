"""The design page: what it shows, every change to it, its proof, and going back and forth in what was done."""

from __future__ import annotations

import asyncio
import dataclasses
import json
from collections.abc import Callable
from typing import Any, get_args

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from foldproof.checks.proof import Verdict
from foldproof.design.workbench.building import built, without
from foldproof.design.workbench.fitting import OTHERS, SHAPES
from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.project.shelf_file import shelf_text
from foldproof.project.write import with_change
from foldproof.service.keeping import reading, saving, shelving
from foldproof.service.keeping.records import Clashed, KeptText, Saved
from foldproof.service.shelf import shelf_at
from foldproof.service.world import now
from foldproof.web.answers import CLASH, answer, bytes_answer, json_of, problem, refused
from foldproof.web.app import Bench
from foldproof.web.page_desk import desk_page
from foldproof.web.page_home import notes_page, resize_page
from foldproof.web.works import AT_ONCE, LATER, Superseded, TooSlow

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
        told = await self.told(kept.id, kept.text)
        versions = await run_in_threadpool(reading.versions, self.folder, kept.id)
        notes = [
            {"version": each.number, "when": each.when, "what": "; ".join(each.what), "current": each.current}
            for each in reversed(versions)
        ]
        return told | {
            "id": kept.id,
            "version": kept.version,
            "saved_at": kept.changed,
            "notes": notes,
            "can_undo": kept.can_undo,
            "can_redo": kept.can_redo,
            "merged": list(merged),
        }

    async def told(self, project_id: str, text: str) -> Fields:
        """What there is to show of a text."""
        told = await self.bench.works.run(f"{JOBS}:state", text.encode(), rank=AT_ONCE)
        found: Fields = json.loads(told)
        return found

    # --- Pages ----------------------------------------------------------------------------------------------

    async def page(self, request: Request) -> Response:
        """The design page, with its proof when that is known already."""
        kept = await self.opened(request)
        state = await self.state(kept)
        known = self.bench.works.kept(f"{JOBS}:proved", kept.text.encode())
        proof, _, model = (known or b"").partition(b"\n")
        proved = {"proof": json.loads(proof), "model": json.loads(model)} if known else {}
        return HTMLResponse(desk_page(kept.id, state, proved))

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
        return await self.proof_of(*await self.at(request))

    async def proof_of(self, project_id: str, version: int, text: str) -> tuple[bytes, bytes]:
        """Proof and folded model of a text, as JSON; the verdict is kept for the list of projects."""
        told = await self.bench.works.run(f"{JOBS}:proved", text.encode(), topic=f"proof {project_id}", near=text)
        proof, _, model = told.partition(b"\n")
        await self._note(project_id, version, str(json.loads(proof)["verdict"]))
        return proof, model

    async def _note(self, project_id: str, version: int, verdict: str) -> None:
        """Keeps a verdict for the list of projects."""
        known = next((each for each in get_args(Verdict) if each == verdict), None)
        if known is not None:
            await run_in_threadpool(lambda: saving.note_verdict(self.folder, project_id, version, known, when=now()))

    async def mends(self, request: Request) -> Response:
        """What would mend a version."""
        project_id, version, text = await self.at(request)
        told = await self.bench.works.run(
            f"{JOBS}:mends", text.encode(), rank=LATER, topic=f"mends {project_id}", near=text
        )
        return answer({"version": version, "mends": json.loads(told)})

    async def range(self, request: Request) -> Response:
        """How far a length can go in this design."""
        project_id, _, text = await self.at(request)
        path = request.query_params.get("path", "")[:MOST_TEXT].replace("\n", " ")
        asked = f"{path}\n{text}".encode()
        told = await self.bench.works.run(f"{JOBS}:length_range", asked, topic=f"range {project_id}")
        return bytes_answer(told, JSON)

    async def fit(self, request: Request) -> Response:
        """Sizes that work out for a goal, or the shapes that cover."""
        project_id, _, text = await self.at(request)
        part, goal = (request.query_params.get(key, "")[:MOST_TEXT] for key in ("part", "goal"))
        if goal == SHAPES:
            shelf = await run_in_threadpool(shelf_at, self.bench.settings.shelf)
            told = json.dumps([shelf_text(each.shape) for each in shelf.shapes])
            asked, job = f"{told}\n{text}".encode(), f"{JOBS}:covering"
        elif goal == OTHERS:
            asked, job = f"{json.dumps(part)}\n{text}".encode(), f"{JOBS}:others"
        else:
            asked, job = f"{json.dumps([part, goal])}\n{text}".encode(), f"{JOBS}:fit"
        return bytes_answer(await self.bench.works.run(job, asked, topic=f"fit {project_id}"), JSON)

    async def picture(self, request: Request) -> Response:
        """A picture of the finished thing."""
        _, _, text = await self.at(request)
        told = await self.bench.works.run(f"{JOBS}:picture", text.encode(), rank=LATER, near=text)
        return bytes_answer(told.partition(b"\n")[2] or EMPTY_PICTURE, "image/svg+xml")

    async def verdict(self, request: Request) -> Response:
        """The verdict of a version, without anything else."""
        project_id, version, text = await self.at(request)
        asked = text.encode()
        found = await self.bench.works.run(f"{JOBS}:picture", asked, rank=LATER, near=text)
        told = found.partition(b"\n")[0].decode()
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
            told = await self.told(project_id, text)
            sides.append({"version": version, "sentence": told["sentence"], "sheets": told["sheets"]})
        told_pairs = [{"label": each.label, "a": each.before or "", "b": each.after or ""} for each in pairs]
        return answer({"pairs": told_pairs, "a": sides[0], "b": sides[1]})

    # --- Changes --------------------------------------------------------------------------------------------

    async def edit(self, request: Request) -> Response:
        """Changes values. Nothing is kept of a change that cannot be."""
        data = await json_of(request)
        changes = _changes(data.get("changes"))

        def changed(text: str) -> str:
            for path, value in changes:
                text = without(text, path) if value is None else with_change(text, path, value)
            return text

        return await self._changed(request.path_params["id"], _number(data.get("version")), changed)

    async def build(self, request: Request) -> Response:
        """Adds something to the design, or takes it off."""
        data = await json_of(request)
        do, part, number = (str(data.get(key, ""))[:MOST_TEXT] for key in ("do", "part", "number"))
        count = int(number) if number.isdigit() and len(number) < 4 else 0
        return await self._changed(
            request.path_params["id"],
            _number(data.get("version")),
            lambda text: built(text, read_project(text), do, part, count),
        )

    async def _changed(self, project_id: str, version: int, change: Callable[[str], str]) -> Response:
        """Keeps the text of a version with a change made. What it comes to is worked out while it is being kept."""

        def text_changed() -> str:
            text = change(reading.text_of(self.folder, project_id, version))
            read_project(text)
            return text

        text = await run_in_threadpool(text_changed)
        ahead = asyncio.ensure_future(self.told(project_id, text))
        ahead.add_done_callback(lambda done: None if done.cancelled() else done.exception())
        return await self._saved(project_id, lambda: saving.save(self.folder, project_id, text, version, when=now()))

    async def in_another_size(self, request: Request) -> Response:
        """A new project of the same series: the design with other lengths and another name."""
        data = await json_of(request)
        kept = await self.opened(request)
        text = kept.text
        for path, value in [("name", str(data.get("name", ""))[:MOST_TEXT]), *_changes(data.get("changes"))]:
            text = with_change(text, path, value or "")
        await run_in_threadpool(read_project, text)
        what = self.bench.language.workbench.sized_from.format(name=kept.name)
        new = await run_in_threadpool(lambda: shelving.start(self.folder, text, when=now(), what=what))
        return answer({"id": new})

    async def rename(self, request: Request) -> Response:
        """Gives the project another name."""
        project_id = request.path_params["id"]
        name = str((await json_of(request)).get("name", ""))
        return await self._saved(project_id, lambda: saving.rename(self.folder, project_id, name, when=now()))

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
            project_id, lambda: saving.go_to(self.folder, project_id, number, kept.version, when=now())
        )

    async def _moved(self, request: Request, move: Callable[..., Saved]) -> Response:
        project_id = request.path_params["id"]
        version = _number((await json_of(request)).get("version"))
        return await self._saved(project_id, lambda: move(self.folder, project_id, version, when=now()))

    async def _saved(self, project_id: str, keep: Callable[[], Saved | Clashed]) -> Response:
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


async def prove_newest(bench: Bench) -> None:
    """Proves the project that was changed last, before anyone asks: it is the one that is opened first."""
    desk = Desk(bench)
    kept = await run_in_threadpool(reading.kept, desk.folder)
    newest = next((each for each in kept if not each.archived and not each.trouble), None)
    if newest is None:
        return
    try:
        opened = await run_in_threadpool(reading.open_kept, desk.folder, newest.id)
        await desk.told(opened.id, opened.text)
        await desk.proof_of(opened.id, opened.version, opened.text)
        await bench.works.run(f"{JOBS}:picture", opened.text.encode(), rank=LATER, near=opened.text)
    except (InputError, TooSlow, Superseded):
        return  # it is told to the one who opens it


EMPTY_PICTURE = b'<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="96mm" viewBox="0 0 120 96"/>'


def _number(value: object) -> int:
    """A version's number. Raises InputError for what is none."""
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    if isinstance(value, str) and value.isdigit() and len(value) < 10:
        return int(value)
    raise refused("version", str(value))


def _changes(given: object) -> list[tuple[str, str | None]]:
    """Paths and values as they were sent; None takes a value out. Raises InputError for anything else."""
    if not isinstance(given, list) or not 0 < len(given) <= MOST_CHANGES:
        raise refused("changes")
    found = []
    for each in given:
        path, value = (each.get("path"), each.get("value", False)) if isinstance(each, dict) else (None, None)
        if not isinstance(path, str) or not isinstance(value, str | int | float | None) or isinstance(value, bool):
            raise refused("changes")
        if len(path) > MOST_TEXT or len(str(value)) > MOST_TEXT:
            raise InputError((dataclasses.replace(problem("value/long", str(value)[:80]), field=path[:80]),))
        found.append((path, None if value is None else str(value)))
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
        "/fit": desk.fit,
        "/picture.svg": desk.picture,
        "/verdict": desk.verdict,
        "/compare": desk.compare,
    }
    done = {
        "/edit": desk.edit,
        "/build": desk.build,
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
