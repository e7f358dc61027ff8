"""The maker's shapes: read from a photograph or a drawing, looked at over it, kept on the shelf, made a lid."""

from __future__ import annotations

import base64
import dataclasses
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from foldproof.constructions.fasteners import USUAL
from foldproof.constructions.parameters import OPEN
from foldproof.design.outline_report import shape_sizes, size_words, symmetry_words
from foldproof.design.outlined import Asked, Outlined
from foldproof.design.workbench.controls import path_data
from foldproof.design.workbench.proof import first_unit
from foldproof.lengths import Length
from foldproof.outlines.own import OwnShape
from foldproof.outlines.own_shape import Cut, own_shape
from foldproof.project.problems import field_path
from foldproof.project.read import read_project
from foldproof.project.write import with_change
from foldproof.project.write_shapes import with_shape
from foldproof.service import asking
from foldproof.service.keeping import reading, saving
from foldproof.service.reading_outlines import outline_of
from foldproof.service.shelf import keep_on, remove_from, rename_on, shelf_at, taken_from
from foldproof.service.world import now
from foldproof.stock.sheets import NAMED_SHEETS
from foldproof.web.answers import answer, body_of, json_of, refused
from foldproof.web.app import Bench
from foldproof.web.page_shapes import shapes_page

MOST_POINTS = 4000
MOST_CUTS = 20
USUAL_SHEETS = ("A4", "Letter", "12x12", "A5", "A3")
TOLD = "the file"

Fields = dict[str, Any]


class Shapes:
    """The page of shapes."""

    def __init__(self, bench: Bench) -> None:
        self.shelf = bench.settings.shelf
        self.projects = bench.settings.projects

    def told(self) -> Fields:
        """The shelf, and the projects that have a lid to give a shape to."""
        shelf = shelf_at(self.shelf)
        names = [named.size.name for named in NAMED_SHEETS]
        return {
            "shapes": [_shape(each.shape) for each in shelf.shapes],
            "unreadable": [{"file": each.file, "why": each.reason} for each in shelf.unreadable],
            "sheets": [name for name in USUAL_SHEETS if name in names],
            "projects": [
                {"id": each.id, "name": each.name}
                for each in reading.kept(self.projects)
                if not each.archived and not each.trouble
            ],
        }

    async def page(self, request: Request) -> Response:
        """The page."""
        return HTMLResponse(shapes_page(await run_in_threadpool(self.told)))

    async def now(self, request: Request) -> Response:
        """What the page shows, as it is now."""
        return answer(await run_in_threadpool(self.told))

    async def trace(self, request: Request) -> Response:
        """Reads a file that was dropped: what was found, with a picture of it over the photograph."""
        asked = _asked(request)
        data = await body_of(request)
        if not data:
            raise refused("file/empty")
        found = await run_in_threadpool(outline_of, data, asked, TOLD)
        return answer(_found(found))

    async def keep(self, request: Request) -> Response:
        """Keeps a shape that was read on the shelf, under the name it was given."""
        data = await json_of(request)
        shape = _given(data)
        await run_in_threadpool(lambda: keep_on(self.shelf, shape, replace=bool(data.get("replace"))))
        return answer(await run_in_threadpool(self.told))

    async def remove(self, request: Request) -> Response:
        """Takes a shape off the shelf."""
        name = str((await json_of(request)).get("name", ""))
        await run_in_threadpool(remove_from, self.shelf, name)
        return answer(await run_in_threadpool(self.told))

    async def rename(self, request: Request) -> Response:
        """Calls a shape of the shelf something else from now on."""
        data = await json_of(request)
        names = (str(data.get("name", "")), str(data.get("new_name", "")).strip())
        await run_in_threadpool(rename_on, self.shelf, *names)
        return answer(await run_in_threadpool(self.told))

    async def use(self, request: Request) -> Response:
        """Makes a shape of the shelf the lid of a project: its outline goes into the project's own file."""
        data = await json_of(request)
        project_id, name, wanted = (str(data.get(key, "")) for key in ("project", "name", "size"))

        def put() -> str:
            shape = taken_from(self.shelf, name)
            kept = reading.open_kept(self.projects, project_id)
            lid = next((part for part in read_project(kept.text).parts if part.on), None)
            if lid is None:
                raise refused("project", kept.name)
            text = with_shape(kept.text, shape, replace=True)
            sizes = [each["size_text"] for each in shape_sizes(shape)] if shape.sizes else []
            size = wanted or (sizes[-1] if sizes else OPEN)
            for key, value in _lid_values(lid.name, shape.name, size):
                text = with_change(text, key, value)
            read_project(text)
            saving.save(self.projects, project_id, text, kept.version, when=now())
            return project_id

        return answer({"id": await run_in_threadpool(put)})


def _lid_values(lid: str, shape: str, size: str) -> list[tuple[str, str]]:
    """A lid of one's own has no lobes to count; a shape that can be any size is sized to its box."""
    values = {"shape": shape, "lobes": USUAL, "depth": USUAL, "across": size}
    return [(field_path("parts", lid, name), value) for name, value in values.items()]


def _asked(request: Request) -> Asked:
    """How a file is to be read, from the address. Raises InputError with everything that is wrong."""
    given = request.query_params
    read = asking.Reading()
    nothing: Cut | None = None
    cuts = [read.of("trim", text, asking.cut, nothing) for text in given.getlist("trim")[:MOST_CUTS] if text]
    no_size: tuple[float, float] | None = None
    no_figure: float | None = None
    asked = Asked(
        choose=given.get("choose") or None,
        unit=given.get("unit") or None,
        sheet_mm=read.of("sheet", given.get("sheet") or None, asking.sheet_mm, no_size),
        corners_px=read.of("corners", given.get("corners") or None, asking.corners, ()),
        accuracy_mm=read.of("accuracy", given.get("accuracy") or None, asking.accuracy_mm, no_figure),
        cuts=tuple(cut for cut in cuts if cut is not None),
        symmetric=given.get("symmetric") == "yes",
    )
    read.tell()
    return asked


def _found(found: Outlined) -> Fields:
    """What was read, for the page: to choose from, or to look at and keep."""
    told: Fields = {
        "kind": found.kind,
        "found": [
            {
                "number": each.number,
                "name": each.name,
                "size": f"{each.width_mm:.0f} × {each.height_mm:.0f} mm",
                "picture": path_data(each.outline),
            }
            for each in found.found
        ],
        "shape": None,
    }
    if found.shape is not None and found.measures is not None:
        told["shape"] = _shape(found.shape) | {
            "points": [[round(x, 4), round(y, 4)] for x, y in found.shape.outline],
            "accuracy_mm": found.shape.accuracy_mm,
            "accuracy": first_unit(size_words(found.shape.accuracy_mm))[0],
            "widest": size_words(found.measures.widest_mm),
            "narrowest": size_words(found.measures.narrowest_mm),
            "symmetry": symmetry_words(found.shape.fold, len(found.shape.mirror_axes_rad)),
        }
        told["read"] = [[round(x, 3), round(y, 3)] for x, y in found.read]
        told["kept"] = [[round(x, 3), round(y, 3)] for x, y in found.kept]
        if found.nearly is not None:
            told["nearly"] = {"fold": found.nearly.fold, "change": size_words(found.nearly.change_mm)}
    if found.photograph is not None:
        told["photograph"] = {
            "picture": "data:image/png;base64," + base64.b64encode(found.photograph.picture).decode(),
            "corners": [list(point) for point in found.photograph.corners_px],
            "doubts": list(found.photograph.doubts),
        }
    return told


def _shape(shape: OwnShape) -> Fields:
    across, other = first_unit(size_words(shape.across_mm))
    return {
        "name": shape.name,
        "source": shape.source,
        "across": across,
        "across_other": other,
        "sizes": [each["size_text"] for each in shape_sizes(shape)],
        "picture": path_data(shape.outline),
    }


def _given(data: Fields) -> OwnShape:
    """A shape as the page sends it back: made again from its points, so that nothing is taken on trust."""
    points = data.get("points")
    if not isinstance(points, list) or not 3 <= len(points) <= MOST_POINTS:
        raise refused("points")
    try:
        outline = tuple((float(x), float(y)) for x, y in points)
        accuracy = float(data.get("accuracy_mm", 0.1))
    except (TypeError, ValueError) as error:
        raise refused("points") from error
    read = asking.Reading()
    nothing: tuple[Length, ...] = ()
    sizes = read.of("sizes", str(data.get("sizes", "")) or None, lambda text: asking.sizes(text, None), nothing)
    source = read.of("source", str(data.get("source", "")) or None, asking.source, "")
    read.tell()
    made = own_shape(str(data.get("name", "")).strip(), outline, accuracy_mm=accuracy, source=source, sizes=sizes)
    return dataclasses.replace(made, sizes=sizes)


def routes(bench: Bench) -> list[Route]:
    """The routes of shapes."""
    shapes = Shapes(bench)
    return [
        Route("/shapes", shapes.page),
        Route("/api/shapes", shapes.now),
        Route("/api/shapes/trace", shapes.trace, methods=["POST"]),
        Route("/api/shapes/keep", shapes.keep, methods=["POST"]),
        Route("/api/shapes/remove", shapes.remove, methods=["POST"]),
        Route("/api/shapes/rename", shapes.rename, methods=["POST"]),
        Route("/api/shapes/use", shapes.use, methods=["POST"]),
    ]
