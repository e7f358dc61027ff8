"""A pattern: flat panels joined by creases, the joins that close it, and how its pieces meet.

Flat coordinates are millimetres in the piece's own frame: x to the right, y away from the maker, the
scored side up. A panel's ``face`` is the side that is up on the board, its ``back`` lies on it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
Point3 = tuple[float, float, float]
Polygon = tuple[Point, ...]
Segment = tuple[Point, Point]

Side = Literal["face", "back"]
Direction = Literal["valley", "mountain"]
Adhesive = Literal["wet_glue", "hot_glue", "tape", "none"]
JoinKind = Literal["glue", "tuck", "pivot", "rest"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A flat part between creases. ``kind`` is its trade name (a message code), ``place`` tells like ones apart."""

    id: str
    kind: str
    place: str
    outline: Polygon  # anticlockwise


@dataclass(frozen=True, slots=True, kw_only=True)
class Crease:
    """A score line that becomes a fold.

    The child turns about ``line`` by ``target_rad`` (0 to pi): towards the face for a valley, towards the back
    for a mountain. ``family`` names creases that are worked alike; the order search keeps them together.
    """

    id: str
    parent: str
    child: str
    line: Segment
    direction: Direction
    scored_face: Side
    target_rad: float
    family: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A round hole through a panel."""

    id: str
    panel: str
    centre: Point
    diameter_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of card: its blank, its tree of panels, and the lines to cut.

    ``together`` lists sets of creases that move on one path parameter; every other crease moves alone.
    """

    id: str
    blank_width_mm: float
    blank_height_mm: float
    root: str
    panels: tuple[Panel, ...]
    creases: tuple[Crease, ...]
    holes: tuple[Hole, ...] = ()
    together: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceRef:
    """One side of one panel."""

    piece: str
    panel: str
    side: Side


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Face ``a`` meets face ``b``: ``area`` in a's flat frame comes to lie on ``landing`` in b's, vertex by vertex."""

    id: str
    a: FaceRef
    b: FaceRef
    area: Polygon
    landing: Polygon
    adhesive: Adhesive
    kind: JoinKind = "glue"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Where a folded piece's root stands in the assembly.

    Turned half about x (``upside_down``), then anticlockwise by ``turned_deg`` about z, then moved.
    """

    piece: str
    upside_down: bool
    shift_mm: Point3
    turned_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A motion between folded pieces: ``moving`` comes along ``axis`` from ``travel_mm`` away to its place."""

    id: str
    kind: Literal["fixed", "prismatic"]
    fixed: str
    moving: str
    axis: Point3
    travel_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxForm:
    """What a lid sees of a folded piece, in flat coordinates of its base, paper thickness counted.

    ``centre`` is the middle of the base; ``outer_mm`` and ``inner_mm`` are (length, width) over the outsides and clear
    inside, ``rim_mm`` the height.
    """

    piece: str
    centre: Point
    outer_mm: tuple[float, float]
    inner_mm: tuple[float, float]
    rim_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """Everything that becomes the finished thing."""

    pieces: tuple[Piece, ...]
    placements: tuple[Placement, ...]
    joins: tuple[Join, ...]
    joints: tuple[Joint, ...] = ()
    forms: tuple[BoxForm, ...] = ()
