"""The questions a page asks of a project's text, as jobs from bytes to bytes.

Each is a pure function of what it is given, run in a process beside the server. Answers are JSON unless another form
is said.
"""

from __future__ import annotations

import io
import json
import math
import zipfile
from functools import lru_cache
from pathlib import Path
from typing import Any

from foldproof.checks.proof import Proof
from foldproof.design.lid_parts import lids_of
from foldproof.design.lid_steps import sheet_of
from foldproof.design.measure import Measured
from foldproof.design.mend import with_mends
from foldproof.design.pack import pack
from foldproof.design.prove import prove
from foldproof.design.workbench.fitting import covering_shapes, fitted, other_lids
from foldproof.design.workbench.model import model_of
from foldproof.design.workbench.proof import mends_of, proof_of
from foldproof.design.workbench.ranges import range_of
from foldproof.design.workbench.solving import solved
from foldproof.design.workbench.state import state_of
from foldproof.drawing.style import palette_for
from foldproof.errors import InputError, wrong
from foldproof.exports.svg import page_svg
from foldproof.progress import Progress, unwatched
from foldproof.project.read import read_project
from foldproof.project.shelf_file import read_shelf_text
from foldproof.project.write import with_change
from foldproof.service.faces import face_folder
from foldproof.service.keeping import sending
from foldproof.service.packing import collecting_later
from foldproof.service.settle import settle
from foldproof.views.folded_picture import finished_picture
from foldproof.views.lid_steps_pictures import finished_lid

PROVED_KEPT = 8  # proofs a process keeps, so that what follows a proof need not prove again
PICTURE_MM = (120.0, 96.0)
ZIP_TIME = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can name: the same files give the same bytes
PAGE_DPI = 110
POINTS_PER_INCH = 72
MOST_PAGE_PIXELS = 4_000_000


def ready(payload: bytes) -> bytes:
    """Nothing, with everything imported: asked once by each new process."""
    settle()
    return b""


def state(payload: bytes) -> bytes:
    """The state of a project's text."""
    return _json(state_of(payload.decode()))


def length_range(payload: bytes) -> bytes:
    """How far a length can go: a line with its path, and then the project's text."""
    path, _, text = payload.decode().partition("\n")
    return _json(range_of(text, path))


def fit(payload: bytes) -> bytes:
    """Sizes that work out. A line of JSON says for which part and goal; then comes the project's text."""
    told, _, text = payload.decode().partition("\n")
    part, goal = json.loads(told)
    return _json(fitted(text, part, goal))


def covering(payload: bytes) -> bytes:
    """Which shapes cover the box. A line of JSON has the texts of the shelf's shapes; then comes the project's."""
    told, _, text = payload.decode().partition("\n")
    shelf = tuple(read_shelf_text(each) for each in json.loads(told))
    return _json(covering_shapes(text, shelf, unwatched))


def others(payload: bytes) -> bytes:
    """A lid in other shapes. A line of JSON names the lid; then comes the project's text."""
    told, _, text = payload.decode().partition("\n")
    return _json(other_lids(text, json.loads(told), unwatched))


def proved(payload: bytes) -> bytes:
    """The proof of a project's text, and in a second line its folded model."""
    measured, proof = _proved(payload.decode())
    said = _json(proof_of(measured.project, proof))
    return said + b"\n" + _json(model_of(measured.project, proof))


def mends(payload: bytes) -> bytes:
    """The changes that were tried and mend a finding."""
    measured, proof = _proved(payload.decode())
    return _json(mends_of(measured.project, with_mends(measured.project, proof)))


def picture(payload: bytes) -> bytes:
    """A project's finished thing as SVG, and in a first line its verdict; an empty picture when it cannot be made."""
    try:
        measured, proof = _proved(payload.decode())
    except InputError:
        return b"open\n"
    project = measured.project
    lids = lids_of(proof)
    if lids:
        page = finished_lid(sheet_of(lids[0], PICTURE_MM), name="picture", alt=project.name)
    else:
        box = proof.parts[0].evidence
        page = finished_picture(box.pieces, box.assembly, name="picture", alt=project.name, size=PICTURE_MM)
    return f"{proof.verdict}\n{page_svg(page, palette=palette_for(project.cardstock.rgb))}".encode()


@lru_cache(maxsize=PROVED_KEPT)
def _proved(text: str) -> tuple[Measured, Proof]:
    done = solved(read_project(text))
    if done.measured is None:
        raise InputError(done.problems)
    return done.measured, prove(done.measured)


def pack_files(payload: bytes, progress: Progress) -> bytes:
    """Every file of a project's pack, as a zip.

    A line of JSON says with which hand and in which version, {} as the project has it; then comes its text.
    """
    told, _, text = payload.decode().partition("\n")
    for key, value in json.loads(told).items():
        text = with_change(text, f"teach.{key}", value)
    done = solved(read_project(text))
    if done.measured is None:
        raise InputError(done.problems)
    with face_folder() as faces, collecting_later():
        made = pack(done.filled, text, progress, font_folders=(faces,))
    return _zip([(file.path, file.data) for file in made.files])


def _zip(files: list[tuple[str, bytes]]) -> bytes:
    found = io.BytesIO()
    with zipfile.ZipFile(found, "w", zipfile.ZIP_DEFLATED) as packed:
        for path, data in files:
            packed.writestr(zipfile.ZipInfo(path, ZIP_TIME), data, zipfile.ZIP_DEFLATED)
    return found.getvalue()


def bring_in(payload: bytes) -> bytes:
    """Keeps a project from a file that somebody sent; its id. A line of JSON has the folder and the time."""
    told, _, data = payload.partition(b"\n")
    folder, when, _ = json.loads(told)
    return sending.bring_in(Path(folder), data, when=when).encode()


def page_image(payload: bytes) -> bytes:
    """One page of a PDF as PNG. The payload is a line of JSON, [number from 0], and then the file.

    Raises InputError for a page that is not there.
    """
    import pypdfium2

    told, _, data = payload.partition(b"\n")
    number = int(json.loads(told)[0])
    document = pypdfium2.PdfDocument(data)
    if not 0 <= number < len(document):
        raise wrong("page", number, "is not in this file", f"ask for 0 to {len(document) - 1}")
    page = document[number]
    width, height = page.get_size()
    scale = min(PAGE_DPI / POINTS_PER_INCH, math.sqrt(MOST_PAGE_PIXELS / (width * height)))
    image = page.render(scale=scale).to_numpy()
    import cv2

    done, png = cv2.imencode(".png", image)
    assert done, "a page that was drawn can be written"
    return bytes(png.tobytes())


def page_count(payload: bytes) -> bytes:
    """How many pages a PDF has, and the size of each in mm."""
    import pypdfium2

    document = pypdfium2.PdfDocument(payload)
    sizes = [[round(side * 25.4 / POINTS_PER_INCH, 2) for side in page.get_size()] for page in document]
    return _json(sizes)


def _json(data: Any) -> bytes:
    try:
        text = json.dumps(data, ensure_ascii=False, allow_nan=False)
    except ValueError:
        text = json.dumps(_finite(data), ensure_ascii=False, allow_nan=False)
    return text.encode()


def _finite(data: Any) -> Any:
    """JSON has no infinity: a number that is none is null."""
    if isinstance(data, float):
        return data if math.isfinite(data) else None
    if isinstance(data, dict):
        return {key: _finite(value) for key, value in data.items()}
    return [_finite(each) for each in data] if isinstance(data, list | tuple) else data
