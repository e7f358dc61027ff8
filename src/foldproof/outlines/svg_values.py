"""The values in an SVG's attributes: lengths, numbers, transforms, and how a box of units is laid into a viewport.

Sources: W3C, Scalable Vector Graphics (SVG) 2, "Coordinate Systems, Transformations and Units"; W3C, CSS Values and
Units 3, "Absolute lengths": 1 in = 2.54 cm = 96 px = 72 pt = 6 pc, 1 Q = 1/40 cm.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from foldproof.errors import InputError, wrong
from foldproof.geometry.plane import Point
from foldproof.outlines.budget import FILE, Budget

# a, b, c, d, e, f: (x, y) goes to (a x + c y + e, b x + d y + f).
Matrix = tuple[float, float, float, float, float, float]
Box = tuple[float, float, float, float]  # left, top, width, height

SAME: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
PX_PER_IN = 96.0
MM_PER_PX = 25.4 / PX_PER_IN
PX_PER: dict[str, float] = {
    "": 1.0,
    "px": 1.0,
    "in": PX_PER_IN,
    "cm": PX_PER_IN / 2.54,
    "mm": PX_PER_IN / 25.4,
    "q": PX_PER_IN / 101.6,
    "pt": PX_PER_IN / 72.0,
    "pc": PX_PER_IN / 6.0,
}
# Every branch takes all digits there are and gives none back, so that millions of digits take one pass.
NUMBER = re.compile(r"[+-]?(?:\d++(?:\.\d*+)?|\.\d++)(?:[eE][+-]?\d++)?")
_LENGTH = re.compile(rf"\s*({NUMBER.pattern})\s*([a-zA-Z]*|%)\s*")
_TRANSFORM = re.compile(r"[\s,]*([a-zA-Z]+)\s*\(([^()]*)\)[\s,]*")
_ANGLE = re.compile(r"deg\b")


def unusable(value: str, reason: str) -> InputError:
    """The refusal of a drawing with an attribute that cannot be read."""
    return wrong(FILE, value.strip()[:60], reason, "save the drawing again as plain SVG")


def numbers_of(text: str, budget: Budget) -> list[float]:
    """Numbers with spaces or commas between them. InputError when anything else is there."""
    rest = NUMBER.sub(" ", text).replace(",", " ").strip()
    if rest:
        raise unusable(text, "has a list of numbers that cannot be read")
    found = [float(number) for number in NUMBER.findall(text)]
    budget.spend("numbers", len(found))
    return _finite(found, text)


def _finite(numbers: list[float], text: str) -> list[float]:
    if not all(map(math.isfinite, numbers)):
        raise unusable(text, "has a number without end")
    return numbers


def unit_of(text: str | None) -> str:
    """The unit a length is written in, in lower case: "" for none, "%" for a share; "auto" when it is left out."""
    found = _LENGTH.fullmatch(text or "")
    return found[2].lower() if found else "auto"


def px_of(text: str, whole: float) -> float:
    """A length in px, which are user units; a percentage is of ``whole``. InputError when it cannot be read."""
    found = _LENGTH.fullmatch(text)
    unit = found[2].lower() if found else ""
    if found is None or not (unit == "%" or unit in PX_PER):
        raise unusable(text, "has a length that cannot be read")
    number = _finite([float(found[1])], text)[0]
    return number / 100.0 * whole if unit == "%" else number * PX_PER[unit]


def after(one: Matrix, other: Matrix) -> Matrix:
    """First ``other``, then ``one``."""
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return (a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f)


def at(matrix: Matrix, point: Point) -> Point:
    """Where a point goes."""
    a, b, c, d, e, f = matrix
    return (a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f)


def along(matrix: Matrix, vector: Point) -> Point:
    """Where a difference of points goes: the matrix without its shift."""
    a, b, c, d, _, _ = matrix
    return (a * vector[0] + c * vector[1], b * vector[0] + d * vector[1])


def moved(x: float, y: float) -> Matrix:
    """A shift."""
    return (1.0, 0.0, 0.0, 1.0, x, y)


def transform_of(text: str, budget: Budget) -> Matrix:
    """The matrix of a ``transform`` attribute, its steps from left to right. InputError when it cannot be read."""
    matrix, place, end = SAME, 0, len(text.rstrip())
    if text.strip().lower() == "none":
        return SAME
    while place < end:
        step = _TRANSFORM.match(text, place)
        if step is None:
            raise unusable(text, "has a transform that cannot be read")
        values = numbers_of(_ANGLE.sub("", step[2]) if step[1] in _TURNS else step[2], budget)
        matrix = after(matrix, _step(step[1], values, text))
        place = step.end()
    _finite(list(matrix), text)
    return matrix


_TURNS = {"rotate", "skewX", "skewY"}


def _step(name: str, values: list[float], text: str) -> Matrix:
    match name, values:
        case "matrix", [a, b, c, d, e, f]:
            return (a, b, c, d, e, f)
        case "translate", [x]:
            return moved(x, 0.0)
        case "translate", [x, y]:
            return moved(x, y)
        case "scale", [both]:
            return (both, 0.0, 0.0, both, 0.0, 0.0)
        case "scale", [x, y]:
            return (x, 0.0, 0.0, y, 0.0, 0.0)
        case "rotate", [turn]:
            return _turn(turn)
        case "rotate", [turn, x, y]:
            return after(after(moved(x, y), _turn(turn)), moved(-x, -y))
        case "skewX", [turn]:
            return (1.0, 0.0, math.tan(math.radians(turn)), 1.0, 0.0, 0.0)
        case "skewY", [turn]:
            return (1.0, math.tan(math.radians(turn)), 0.0, 1.0, 0.0, 0.0)
        case _:
            raise unusable(text, "has a transform that cannot be read")


def _turn(degrees: float) -> Matrix:
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return (cosine, sine, -sine, cosine, 0.0, 0.0)


def view_box_of(text: str | None, budget: Budget) -> Box | None:
    """The four numbers of a ``viewBox``; None when there is none. InputError when it is not usable."""
    if text is None:
        return None
    numbers = numbers_of(text, budget)
    if len(numbers) != 4 or numbers[2] <= 0.0 or numbers[3] <= 0.0:
        raise unusable(text, "has a viewBox that cannot be read")
    left, top, width, height = numbers
    return (left, top, width, height)


def fitted(box: Box, width: float, height: float, aspect: str | None) -> Matrix:
    """How a view box is laid into a viewport of a width and height, by ``preserveAspectRatio``."""
    words: Iterable[str] = (aspect or "xMidYMid meet").split()
    words = [word for word in words if word != "defer"]
    align = words[0] if words else "xMidYMid"
    across, up = width / box[2], height / box[3]
    if align == "none":
        return (across, 0.0, 0.0, up, -box[0] * across, -box[1] * up)
    scale = max(across, up) if "slice" in words else min(across, up)
    share = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    try:
        right, down = share[align[1:4]], share[align[5:8]]
    except KeyError as error:
        raise unusable(align, "has a preserveAspectRatio that cannot be read") from error
    x = right * (width - scale * box[2]) - box[0] * scale
    y = down * (height - scale * box[3]) - box[1] * scale
    return (scale, 0.0, 0.0, scale, x, y)
