"""Reads the outline in a file from outside: in a process of its own, with bounds on its time, memory and size."""

from __future__ import annotations

import base64
import dataclasses
import json
import os
from pathlib import Path
from typing import Any

from foldproof.design.outlined import Asked, FoundShape, FromPhotograph, NearlySymmetric, Outlined
from foldproof.design.outlining import kind_of, outlined, told_as
from foldproof.errors import InputError, wrong
from foldproof.geometry.plane import Polygon
from foldproof.outlines.own import renamed
from foldproof.outlines.own_shape import Measures
from foldproof.project.shelf_file import read_shelf_text, shelf_text
from foldproof.service.apart import Outcome, run_apart
from foldproof.service.files import said, shown_path
from foldproof.service.settle import settle

JOB = "foldproof.service.reading_outlines:read_apart"
MOST_BYTES = 60_000_000  # a photograph of a hundred megapixels; drawings are held to less where they are read
MOST_SECONDS = 20.0  # many times what the largest photograph takes
MOST_MEGABYTES = 3_000  # for a photograph of a hundred megapixels; drawings take a tenth
MOST_ANSWER_BYTES = 60_000_000  # the trace over the photograph, and the outlines
PLACES = 4  # decimals of a mm in what comes back
NAME_APART = "shape"  # what it is called until the maker's name for it is known

# What to say when the reading was cut off.
CUT_OFF = {
    "time": ("{reason} to read", "save it simpler or smaller, or give it longer with --seconds"),
    "memory": ("{reason} to read", "save it simpler or smaller"),
    "output": ("{reason}", "save it simpler or smaller"),
    "broke off": ("cannot be read: {reason}", "save it again from the program it came from, or in another format"),
}


def read_outline(path: str | Path, asked: Asked, *, seconds: float = MOST_SECONDS) -> Outlined:
    """What is in the file at ``path``. Raises InputError when it cannot be read, is refused, or takes too much."""
    return outline_of(read_bytes(path), asked, shown_path(path), seconds=seconds)


def outline_of(data: bytes, asked: Asked, told: str, *, seconds: float = MOST_SECONDS) -> Outlined:
    """As ``read_outline``, from the bytes of a file that is told of by the name ``told``."""
    try:
        kind_of(data)
    except InputError as error:  # before a process is started for it
        raise told_as(error, told) from error
    head = json.dumps(dataclasses.asdict(asked)).encode("utf-8")
    payload = len(head).to_bytes(4, "big") + head + data
    outcome = run_apart(JOB, payload, seconds=seconds, megabytes=MOST_MEGABYTES, most_bytes=MOST_ANSWER_BYTES)
    if outcome.ok is None:
        raise _refusal(outcome, told)
    return _unpacked(json.loads(outcome.ok))


def _refusal(outcome: Outcome, told: str) -> InputError:
    if outcome.why == "input":
        return told_as(InputError(outcome.problems), told)
    reason, remedy = CUT_OFF.get(outcome.why, CUT_OFF["broke off"])
    return wrong(told, "", reason.format(reason=outcome.reason), remedy)


def read_bytes(path: str | Path) -> bytes:
    """The bytes of an ordinary file of at most ``MOST_BYTES``. Raises InputError when there is none to read."""
    told, place = shown_path(path), Path(path)
    try:
        if place.is_dir():
            raise wrong(told, "", "is a folder", "name the photograph or drawing in it")
        if place.exists() and not place.is_file():
            raise wrong(told, "", "is no ordinary file", "name a photograph or a drawing")
        with open(place, "rb") as file:
            size = os.fstat(file.fileno()).st_size
            data = file.read(MOST_BYTES + 1) if size <= MOST_BYTES else b""
    except FileNotFoundError as error:
        raise wrong(told, "", "is not there", "check the name") from error
    except PermissionError as error:
        raise wrong(told, "", "may not be read by you", "change its permissions, or copy it") from error
    except (OSError, ValueError) as error:  # a name too long, or with a zero character
        raise wrong(told, "", f"cannot be read: {said(error)}", "check the name") from error
    if max(size, len(data)) > MOST_BYTES:
        raise wrong(
            told, "", f"is {max(size, len(data)) / 1e6:.0f} MB", f"save it smaller; {MOST_BYTES // 10**6} MB are read"
        )
    if not data:
        raise wrong(told, "", "is empty", "copy or save it again")
    return data


# --- In the process of its own ------------------------------------------------------------------------------


def read_apart(payload: bytes) -> bytes:
    """The job: what was asked as JSON and the file's bytes in, what was found as JSON out."""
    length = int.from_bytes(payload[:4], "big")
    asked, data = json.loads(payload[4 : 4 + length]), payload[4 + length :]
    if kind_of(data) == "dxf":
        settle()
    found = outlined(data, _asked(asked))
    return json.dumps(_packed(found), allow_nan=False).encode("utf-8")


def _asked(told: dict[str, Any]) -> Asked:
    sheet = told["sheet_mm"]
    return Asked(
        choose=told["choose"],
        unit=told["unit"],
        sheet_mm=None if sheet is None else (sheet[0], sheet[1]),
        corners_px=_points(told["corners_px"]),
        accuracy_mm=told["accuracy_mm"],
        cuts=tuple(((one[0], one[1]), (other[0], other[1])) for one, other in told["cuts"]),
        symmetric=told["symmetric"],
    )


def _packed(found: Outlined) -> dict[str, Any]:
    shape, photograph = found.shape, found.photograph
    return {
        "kind": found.kind,
        "found": [{**dataclasses.asdict(each), "outline": _rounded(each.outline)} for each in found.found],
        "shape": None if shape is None else shelf_text(renamed(shape, NAME_APART)),
        "measures": None if found.measures is None else dataclasses.asdict(found.measures),
        "read": _rounded(found.read),
        "kept": _rounded(found.kept),
        "strayed_mm": found.strayed_mm,
        "mended": found.mended,
        "holes": found.holes,
        "nearly": None if found.nearly is None else dataclasses.asdict(found.nearly),
        "left_out": found.left_out,
        "unit": found.unit,
        "unit_from": found.unit_from,
        "photograph": None
        if photograph is None
        else {
            "pixels_per_mm": photograph.pixels_per_mm,
            "farthest_mm": photograph.farthest_mm,
            "corners_px": photograph.corners_px,
            "doubts": photograph.doubts,
            "picture": base64.b64encode(photograph.picture).decode("ascii"),
        },
    }


def _unpacked(told: dict[str, Any]) -> Outlined:
    photograph, shape, measures, nearly = (told[key] for key in ("photograph", "shape", "measures", "nearly"))
    return Outlined(
        kind=told["kind"],
        found=tuple(FoundShape(**{**each, "outline": _points(each["outline"])}) for each in told["found"]),
        shape=None if shape is None else read_shelf_text(shape),
        measures=None if measures is None else Measures(**measures),
        read=_points(told["read"]),
        kept=_points(told["kept"]),
        strayed_mm=told["strayed_mm"],
        mended=told["mended"],
        holes=told["holes"],
        nearly=None if nearly is None else NearlySymmetric(**nearly),
        left_out=tuple((what, count) for what, count in told["left_out"]),
        unit=told["unit"],
        unit_from=told["unit_from"],
        photograph=None
        if photograph is None
        else FromPhotograph(
            pixels_per_mm=photograph["pixels_per_mm"],
            farthest_mm=photograph["farthest_mm"],
            corners_px=_points(photograph["corners_px"]),
            doubts=tuple(photograph["doubts"]),
            picture=base64.b64decode(photograph["picture"]),
        ),
    )


def _points(told: list[list[float]]) -> Polygon:
    return tuple((x, y) for x, y in told)


def _rounded(outline: Polygon) -> list[list[float]]:
    return [[round(x, PLACES), round(y, PLACES)] for x, y in outline]
