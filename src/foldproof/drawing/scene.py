"""Solid things in space that move: a tree of nodes with surfaces, the pose they rest in, and the clips they move in.

Lengths are millimetres, x to the right, y away from the viewer, z up. A node's points, and the places of its children,
are given in the node's own frame. Turns are unit quaternions (x, y, z, w).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import Literal

Point3 = tuple[float, float, float]
Quaternion = tuple[float, float, float, float]
Triangle = tuple[int, int, int]

NO_TURN: Quaternion = (0.0, 0.0, 0.0, 1.0)
UNIT_OFF = 1e-9  # of a quaternion's length; float noise of a few multiplications is a thousand times less


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A matt colour, ``#rrggbb``, under the name that surfaces call it by."""

    name: str
    colour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """Triangles in one material, anticlockwise seen from outside; one unit normal for each point."""

    material: str
    points: tuple[Point3, ...]
    normals: tuple[Point3, ...]
    triangles: tuple[Triangle, ...]

    def __post_init__(self) -> None:
        assert self.triangles and len(self.points) == len(self.normals), "a surface needs triangles and normals"
        corners = [corner for triangle in self.triangles for corner in triangle]
        assert min(corners) >= 0 and max(corners) < len(self.points), "a triangle with a corner nowhere"


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """How a node moves or turns in one clip: a value at each key.

    Values run evenly from key to key, places along a line and turns about one axis the shorter way; the first and the
    last value hold before and after. A place is a Point3 in mm, a turn a Quaternion.
    """

    clip: str
    path: Literal["move", "turn"]
    times_s: tuple[float, ...]
    values: tuple[tuple[float, ...], ...]

    def __post_init__(self) -> None:
        assert self.times_s and len(self.times_s) == len(self.values), "a value for each key"
        assert self.times_s[0] >= 0.0, "keys begin at nought or later"
        assert all(one < other for one, other in pairwise(self.times_s)), "keys in order"
        wide = 3 if self.path == "move" else 4
        assert all(len(value) == wide for value in self.values), f"a {self.path} has {wide} numbers"
        assert self.path == "move" or all(_is_unit(value) for value in self.values), "turns are unit quaternions"


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A thing and what hangs on it. ``at_mm`` and ``turn`` are its place in its parent's frame when nothing moves.

    ``about`` are names and values for programs.
    """

    name: str
    at_mm: Point3 = (0.0, 0.0, 0.0)
    turn: Quaternion = NO_TURN
    surfaces: tuple[Surface, ...] = ()
    tracks: tuple[Track, ...] = ()
    children: tuple[Node, ...] = ()
    about: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        assert _is_unit(self.turn), f"node {self.name!r}: turns are unit quaternions"
        moves = [(track.clip, track.path) for track in self.tracks]
        assert len(set(moves)) == len(moves), f"node {self.name!r} has two ways to move in one clip"


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """Everything in one file. ``clips`` are the names of the movements, in the order they are listed in.

    ``about`` are names and values that hold for the whole of it.
    """

    name: str
    nodes: tuple[Node, ...]
    materials: tuple[Material, ...]
    clips: tuple[str, ...] = ()
    about: tuple[tuple[str, str], ...] = ()


def nodes_in_order(nodes: Sequence[Node]) -> tuple[Node, ...]:
    """The nodes and all that hang on them, each before what hangs on it."""
    found: list[Node] = []
    waiting = list(reversed(nodes))
    while waiting:
        node = waiting.pop()
        found.append(node)
        waiting.extend(reversed(node.children))
    return tuple(found)


def _is_unit(value: tuple[float, ...]) -> bool:
    return abs(hypot(*value) - 1.0) < UNIT_OFF
