"""How the parts of a folded model move: folds about their creases, pieces carried, a lid turned; as keyed tracks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import acos, cos, hypot, pi, radians, remainder, sin
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from foldproof.drawing.scene import Point3, Quaternion, Track
from foldproof.folding.tree import FoldTree, fold_motions
from foldproof.pattern.records import Placement

Array = NDArray[np.float64]

FOLD_S = 1.2  # slow enough to see which panel moves
LIFT_S, ACROSS_S, DOWN_S = 0.6, 1.2, 1.2
TURN_S, WAIT_S = 2.4, 0.8
# Keys of one move. At its fastest an eased half turn goes 1.5 times its mean speed: 7.5 degrees between keys.
KEYS = 36
NO_ANGLE_RAD = 1e-12  # a turn smaller than this has no axis
TICK_S = 1e-6  # two keys nearer than this are one; the shortest move has one every 17 ms


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A straight move from one place to another, and from one share of a turn (0 to 1) to another."""

    start_s: float
    seconds: float
    start_mm: Point3
    end_mm: Point3
    start_share: float = 0.0
    end_share: float = 0.0

    @property
    def end_s(self) -> float:
        """When it is over."""
        return self.start_s + self.seconds


def eased(share: float) -> float:
    """Slow, fast, slow: 3 u^2 - 2 u^3 of the time gone."""
    return share * share * (3.0 - 2.0 * share)


def quaternion(axis: Sequence[float], angle_rad: float) -> Quaternion:
    """A right-handed turn about a unit vector."""
    sine = sin(0.5 * angle_rad)
    return (float(axis[0]) * sine, float(axis[1]) * sine, float(axis[2]) * sine, cos(0.5 * angle_rad))


def turn_of(placement: Placement) -> Quaternion:
    """The turn of a placement: half about x if it is upside down, then about z."""
    half_rad = 0.5 * remainder(radians(placement.turned_deg), 2.0 * pi)  # so that its cosine is not negative
    if placement.upside_down:
        return (cos(half_rad), sin(half_rad), 0.0, 0.0)
    return quaternion((0.0, 0.0, 1.0), 2.0 * half_rad)


def share_of(turn: Quaternion, share: float) -> Quaternion:
    """A share of a turn, the shorter way."""
    x, y, z, w = turn
    sine = hypot(x, y, z)
    if sine < NO_ANGLE_RAD:
        return (0.0, 0.0, 0.0, 1.0)
    return quaternion((x / sine, y / sine, z / sine), share * 2.0 * acos(max(-1.0, min(1.0, w))))


# --- Folds --------------------------------------------------------------------------------------------------


def hinge(tree: FoldTree, panel: int) -> Point3:
    """The point of a panel's flat frame that its node turns about: an end of its crease, the origin for the root."""
    if panel == 0:
        return (0.0, 0.0, 0.0)
    x, y, z = tree.axes[tree.crease_of[panel]][0].tolist()
    return (x, y, z)


def hung(tree: FoldTree, panel: int, shift_mm: float, fractions: Sequence[float]) -> list[tuple[Point3, Quaternion]]:
    """Place and turn of a panel's node in its parent's, at fractions 0 (flat) to 1 (folded) of its fold."""
    _, direction, target = tree.axes[tree.crease_of[panel]]
    point, base = np.array(hinge(tree, panel)), np.array(hinge(tree, tree.parent[panel]))
    motions = fold_motions(tree, panel, np.array(fractions), shift_mm)
    places = motions[:, :3, :3] @ point + motions[:, :3, 3] - base
    return [
        ((x, y, z), quaternion(direction.tolist(), target * fraction))
        for (x, y, z), fraction in zip(places.tolist(), fractions, strict=True)
    ]


def fold_tracks(clip: str, tree: FoldTree, panel: int, shift_mm: float, start_s: float) -> tuple[Track, ...]:
    """The fold of a panel about its crease, from flat to its target; its layer's shift grows with it."""
    shares = [n / KEYS for n in range(KEYS + 1)]
    poses = hung(tree, panel, shift_mm, [eased(share) for share in shares])
    times = tuple(start_s + FOLD_S * share for share in shares)
    turn = Track(clip=clip, path="turn", times_s=times, values=tuple(turn for _, turn in poses))
    if shift_mm == 0.0:
        return (turn,)
    return (Track(clip=clip, path="move", times_s=times, values=tuple(place for place, _ in poses)), turn)


# --- Pieces carried, a lid turned ---------------------------------------------------------------------------


def over(
    start_mm: Point3, end_mm: Point3, height_mm: float, start_s: float, *, turned: bool = True
) -> tuple[Leg, Leg, Leg]:
    """Up to ``height_mm``, across there while the piece is turned if it is, and straight down to its place."""
    above_start, above_end = (*start_mm[:2], height_mm), (*end_mm[:2], height_mm)
    done = 1.0 if turned else 0.0
    up = Leg(start_s=start_s, seconds=LIFT_S, start_mm=start_mm, end_mm=above_start)
    across = Leg(start_s=up.end_s, seconds=ACROSS_S, start_mm=above_start, end_mm=above_end, end_share=done)
    down = Leg(
        start_s=across.end_s,
        seconds=DOWN_S,
        start_mm=above_end,
        end_mm=end_mm,
        start_share=done,
        end_share=done,
    )
    return (up, across, down)


def carry_tracks(clip: str, legs: Sequence[Leg], turn: Quaternion) -> tuple[Track, ...]:
    """The places along the legs, and the turn if there is one. Legs are in order of time."""
    place = _track(clip, "move", legs, _place_on)
    if hypot(*turn[:3]) < NO_ANGLE_RAD:
        return (place,)
    return (place, _track(clip, "turn", legs, lambda leg, share: share_of(turn, _share_on(leg, share))))


def turn_track(clip: str, angle_rad: float) -> Track:
    """About the upright by an angle, a wait, and back."""
    nowhere = (0.0, 0.0, 0.0)
    there = Leg(start_s=0.0, seconds=TURN_S, start_mm=nowhere, end_mm=nowhere, end_share=1.0)
    back = Leg(start_s=TURN_S + WAIT_S, seconds=TURN_S, start_mm=nowhere, end_mm=nowhere, start_share=1.0)
    upright = (0.0, 0.0, 1.0)
    return _track(
        clip, "turn", (there, back), lambda leg, share: quaternion(upright, angle_rad * _share_on(leg, share))
    )


def _track(
    clip: str, path: Literal["move", "turn"], legs: Sequence[Leg], value: Callable[[Leg, float], tuple[float, ...]]
) -> Track:
    times: list[float] = []
    values = []
    for leg in legs:
        for n in range(KEYS + 1):
            time = leg.start_s + leg.seconds * n / KEYS
            if not times or time > times[-1] + TICK_S:  # a leg that follows at once begins where the last one ended
                times.append(time)
                values.append(value(leg, eased(n / KEYS)))
    return Track(clip=clip, path=path, times_s=tuple(times), values=tuple(values))


def _place_on(leg: Leg, share: float) -> Point3:
    x, y, z = (a + share * (b - a) for a, b in zip(leg.start_mm, leg.end_mm, strict=True))
    return (x, y, z)


def _share_on(leg: Leg, share: float) -> float:
    return leg.start_share + share * (leg.end_share - leg.start_share)
