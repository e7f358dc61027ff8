"""Small pieces, every order of their folds tried by brute force with python-fcl and rules worked out here again.

Nothing of the engine's poses, plates, tables or search is used by the referee: only the piece, and layers by hand.
"""

import itertools
import math

import fcl
import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from foldproof.folding.limits import FoldingLimits
from foldproof.pattern.records import Crease, FaceRef, Join, Panel, Piece

SOLID_SHARE = 0.9
FORGIVEN_MM = 0.02
LAST_DEG = 0.05
# Fingers so small that they reach anywhere: what they reach is judged elsewhere.
NO_FINGERS = FoldingLimits(finger_mm=0.001, finger_reach_mm=0.001)


def quaternion_matrix(axis, angle):
    w, (x, y, z) = math.cos(angle / 2), math.sin(angle / 2) * np.asarray(axis)
    return np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
            [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
            [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
        ]
    )


class Referee:
    """Poses a piece, and tells whether a fold may be the last of some folds that are done."""

    def __init__(self, piece, shifts, over, thickness_mm):
        """``shifts``: layers each panel moves along its face; ``over``: (lower, upper, side of lower)."""
        self.outlines = {panel.id: panel.outline for panel in piece.panels}
        self.crease = {crease.child: crease for crease in piece.creases}
        self.root, self.names = piece.root, tuple(self.outlines)
        self.shifts = {name: shifts.get(name, 0) * thickness_mm for name in self.names}
        self.over, self.seen, self.parted = over, {}, {}
        self.hinges = {child: self.hinge(crease) for child, crease in self.crease.items()}
        self.solids = {name: self.solid(outline, thickness_mm) for name, outline in self.outlines.items()}

    @staticmethod
    def solid(outline, thickness_mm):
        """A convex panel as a plate a little smaller than the card: by the share, and by what is forgiven."""
        smaller = Polygon(outline).buffer(-(thickness_mm + FORGIVEN_MM / 2), join_style="mitre")
        corners = list(smaller.exterior.coords)[:-1]
        half, count = (SOLID_SHARE * thickness_mm - FORGIVEN_MM) / 2, len(corners)
        points = [(x, y, -half) for x, y in corners] + [(x, y, half) for x, y in corners]
        faces = [count, *range(count), count, *range(2 * count - 1, count - 1, -1)]
        for k in range(count):
            faces += [4, k, (k + 1) % count, count + (k + 1) % count, count + k]
        return fcl.CollisionObject(fcl.Convex(np.array(points), count + 2, np.array(faces)), fcl.Transform())

    def hinge(self, crease):
        """A point on a crease, its direction, and the turn about it that folds its child."""
        start, end = (np.array([*point, 0.0]) for point in crease.line)
        axis = (end - start) / np.linalg.norm(end - start)
        middle = np.array([*Polygon(self.outlines[crease.child]).centroid.coords[0], 0.0])
        rises = np.cross(axis, middle - start)[2] > 0  # a right-handed turn lifts it
        up = 1.0 if rises == (crease.direction == "valley") else -1.0
        return start, axis, up * crease.target_rad

    def creases_to(self, panel):
        path = []
        while panel != self.root:
            path.append(panel)
            panel = self.crease[panel].parent
        return path

    def between(self, one, other):
        """The folds, named by their children, that change how two panels stand to each other."""
        if (one, other) not in self.parted:
            self.parted[one, other] = frozenset(set(self.creases_to(one)) ^ set(self.creases_to(other)))
        return self.parted[one, other]

    def place(self, panel, fractions, thick):
        """Rotation and position of a panel in space, the root lying flat."""
        rotation, position = np.eye(3), np.zeros(3)
        for child in reversed(self.creases_to(panel)):
            start, axis, target = self.hinges[child]
            fraction = fractions.get(child, 0.0)
            turn = quaternion_matrix(axis, target * fraction)
            local = start - turn @ start
            if thick:
                local = local + turn[:, 2] * self.shifts[child] * fraction
            rotation, position = rotation @ turn, rotation @ local + position
        return rotation, position

    def hits(self, one, other, fractions):
        for name in (one, other):
            self.solids[name].setTransform(fcl.Transform(*self.place(name, fractions, True)))
        return fcl.collide(self.solids[one], self.solids[other], fcl.CollisionRequest(), fcl.CollisionResult()) > 0

    def swept(self, one, other, done, last):
        """Do two panels touch anywhere while ``last`` is folded and the others in ``done`` are in place?"""
        key = (one, other, done & self.between(one, other), last)
        if key not in self.seen:
            span = math.degrees(self.crease[last].target_rad)
            fine = np.concatenate([np.arange(0.02, 1.0, 0.07), np.arange(1.0, 91.0, 1.5)])
            angles = np.unique(np.concatenate([fine[fine < span], span - fine[fine < span], [span]]))
            self.seen[key] = any(
                self.hits(one, other, dict.fromkeys(done, 1.0) | {last: angle / span}) for angle in angles
            )
        return self.seen[key]

    def arrives(self, lower, upper, side, done, last):
        """How the upper panel comes to lie on the lower one: "right", "wrong" or "slides"."""
        if last not in self.between(lower, upper) or not self.between(lower, upper) <= done:
            return "right"  # nothing arrives in this fold
        if (lower, upper, last) not in self.seen:
            self.seen[lower, upper, last] = self.arriving(lower, upper, side, self.between(lower, upper), last)
        return self.seen[lower, upper, last]

    def arriving(self, lower, upper, side, done, last):
        """The same for the folds between the two panels alone: the others move both alike."""
        near = dict.fromkeys(done, 1.0)
        before = near | {last: 1.0 - LAST_DEG / math.degrees(self.crease[last].target_rad)}
        inner = Polygon(self.outlines[lower])
        low, high = np.min(self.outlines[upper], axis=0), np.max(self.outlines[upper], axis=0)
        heights, moves = [], []
        for x, y in itertools.product(*(np.linspace(a, b, 11) for a, b in zip(low, high, strict=True))):
            if not Polygon(self.outlines[upper]).contains(Point(x, y)):
                continue
            landed, nearly = (self.seen_from(lower, upper, (x, y, 0.0), f) for f in (near, before))
            if inner.contains(Point(landed[:2])):
                heights.append(side * (nearly[2] - landed[2]))
                moves.append(np.linalg.norm(nearly - landed))
        if max(map(abs, heights)) < 0.02 * max(moves):
            return "slides"
        return "wrong" if min(heights) < -1e-3 * max(moves) else "right"

    def seen_from(self, lower, upper, point, fractions):
        rotation, position = self.place(upper, fractions, False)
        base_rotation, base_position = self.place(lower, fractions, False)
        return base_rotation.T @ (rotation @ np.array(point) + position - base_position)

    def may_be_last(self, done, last):
        for one, other in itertools.combinations(self.names, 2):
            parted = self.between(one, other)
            if len(parted) > 1 and last in parted and self.swept(one, other, done, last):
                return False
        ways = {(low, up): self.arrives(low, up, side, done, last) for low, up, side in self.over}
        if "wrong" in ways.values():
            return False
        slid_on = {up for (_, up), way in ways.items() if way == "slides"}
        slid_under = {low for (low, _), way in ways.items() if way == "slides"}
        return not slid_on & slid_under

    def orders(self):
        """All orders that fold, as tuples of children."""
        allowed = {}
        found = []
        for order in itertools.permutations(self.crease):
            for count in range(1, len(order) + 1):
                key = (frozenset(order[:count]), order[count - 1])
                if key not in allowed:
                    allowed[key] = self.may_be_last(*key)
                if not allowed[key]:
                    break
            else:
                found.append(order)
        return found


LAYERS_BY_HAND = {"tab_back_right": 1, "tab_front_right": 1, "inner_right": -2, "inner_back": -1}
OVER_BY_HAND = (
    ("wall_right", "tab_back_right", 1),
    ("wall_right", "tab_front_right", 1),
    ("wall_right", "inner_right", 1),
    ("tab_back_right", "inner_right", 1),
    ("tab_front_right", "inner_right", 1),
    ("wall_back", "inner_back", 1),
)
CORNER = ("base", "wall_back", "wall_right", "tab_back_right")
PARTS = {
    "corner with a tab": CORNER,
    "corner with the inner wall over its tab": (*CORNER, "inner_right"),
    "corner with both inner walls": (*CORNER, "inner_right", "inner_back"),
    "side with two tabs under one inner wall": (*CORNER, "inner_right", "wall_front", "tab_front_right"),
}


def agree(small, referee):
    """The search finds exactly as many orders as brute force, and its ranked ones are among them."""
    found = referee.orders()
    assert small.orders.complete
    assert small.orders.number == len(found)
    for ranked in small.orders.ranked:
        named = tuple(next(child for child, step in small.step.items() if step == s) for s in ranked.steps)
        assert named in found
    return found


@pytest.mark.parametrize("thickness_mm", [0.2, 0.4])
@pytest.mark.parametrize("names", PARTS.values(), ids=PARTS.keys())
def test_parts_of_a_tray_have_the_orders_that_brute_force_finds(pieces, names, thickness_mm):
    piece, joins = pieces.part_of(pieces.tray(), names)
    small = pieces.fold(piece, joins, thickness_mm, NO_FINGERS)
    shifts = {name: LAYERS_BY_HAND.get(name, 0) for name in names}
    layers = [shift / thickness_mm for shift in small.layers.shifts_mm]
    assert layers == pytest.approx([shifts[name] for name in small.tree.panels], abs=1e-6)
    over = tuple(pair for pair in OVER_BY_HAND if {pair[0], pair[1]} <= set(names))
    found = agree(small, Referee(piece, shifts, over, thickness_mm))
    assert 0 < len(found) < math.factorial(len(piece.creases))


def flap(name, *outline):
    return Panel(id=name, kind="flap", place="", outline=outline)


def crease(parent, child, line, fold_deg, direction="valley"):
    target = math.radians(fold_deg)
    return Crease(
        id=f"fold_{child}",
        parent=parent,
        child=child,
        line=line,
        direction=direction,
        scored_face="face",
        target_rad=target,
        family=child,
    )


def glue(a, b, *corners):
    """Faces that meet: only which lies on which matters here, so any area does for both."""
    (panel_a, side_a), (panel_b, side_b) = a, b
    return Join(
        id=f"{panel_a}+{panel_b}",
        a=FaceRef(piece="flaps", panel=panel_a, side=side_a),
        b=FaceRef(piece="flaps", panel=panel_b, side=side_b),
        area=corners,
        landing=corners,
        adhesive="none",
    )


def flaps(panels, creases):
    return Piece(
        id="flaps",
        blank_width_mm=200.0,
        blank_height_mm=200.0,
        root="base",
        panels=tuple(panels),
        creases=tuple(creases),
    )


BASE = flap("base", (0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0))
LEFT = flap("left", (-30.0, 5.0), (0.0, 5.0), (0.0, 35.0), (-30.0, 35.0))
RIGHT = flap("right", (40.0, 6.0), (68.0, 6.0), (68.0, 34.0), (40.0, 34.0))
LEFT_CREASE = crease("base", "left", ((0.0, 5.0), (0.0, 35.0)), 180)
RIGHT_CREASE = crease("base", "right", ((40.0, 6.0), (40.0, 34.0)), 180)
AREA = ((10.0, 10.0), (20.0, 10.0), (20.0, 20.0), (10.0, 20.0))


def test_of_two_flaps_the_lower_one_is_folded_first(pieces):
    piece = flaps((BASE, LEFT, RIGHT), (LEFT_CREASE, RIGHT_CREASE))
    joins = (glue(("left", "back"), ("right", "back"), *AREA),)
    small = pieces.fold(piece, (), 0.3, NO_FINGERS)
    assert small.layers.overlaps[-1].assumed
    told = pieces.fold(piece, joins, 0.3, NO_FINGERS)
    # A flap folded right over looks down with its face: its own layer is against its normal.
    referee = Referee(
        piece,
        {"left": -1, "right": -2},
        (("base", "left", 1), ("base", "right", 1), ("left", "right", -1)),
        0.3,
    )
    assert agree(told, referee) == [("left", "right")]


# A flap that carries a tongue on its far edge, folded under another flap: it cannot be got there.
LOWER = flap("lower", (8.0, 40.0), (32.0, 40.0), (32.0, 70.0), (8.0, 70.0))
LID = flap("lid", (40.0, 2.0), (80.0, 2.0), (80.0, 38.0), (40.0, 38.0))
TONGUE = flap("tongue", (80.0, 4.0), (108.0, 4.0), (108.0, 36.0), (80.0, 36.0))
TUCKED = flaps(
    (BASE, LOWER, LID, TONGUE),
    (
        crease("base", "lower", ((8.0, 40.0), (32.0, 40.0)), 180),
        crease("base", "lid", ((40.0, 2.0), (40.0, 38.0)), 180),
        crease("lid", "tongue", ((80.0, 4.0), (80.0, 36.0)), 180),
    ),
)


def test_a_tongue_between_two_glued_layers_is_in_no_order_and_the_obstacles_are_named(pieces):
    under = (glue(("tongue", "face"), ("lower", "face"), *AREA), glue(("lower", "back"), ("lid", "face"), *AREA))
    small = pieces.fold(TUCKED, under, 0.3, NO_FINGERS)
    layer = dict(zip(small.tree.panels, small.layers.layer, strict=True))
    assert [layer[name] for name in ("base", "tongue", "lower", "lid")] == [0, 1, 2, 3]
    over = (("base", "tongue", 1), ("tongue", "lower", 1), ("lower", "lid", -1), ("base", "lower", 1))
    shifts = {"lower": -2, "lid": -3, "tongue": -2}
    assert small.layers.shifts_mm == pytest.approx([0.3 * shifts.get(p, 0) for p in small.tree.panels], abs=1e-9)
    assert agree(small, Referee(TUCKED, shifts, over, 0.3)) == []
    assert small.orders.number == 0 and small.orders.ranked == ()
    assert small.orders.complete, "nothing was left out: it is known that no order works"
    assert small.orders.obstacles
    named = {panel for obstacle in small.orders.obstacles for panel in obstacle.panels}
    assert "tongue" in named
    assert {obstacle.reason for obstacle in small.orders.obstacles} <= {"contact", "wrong_side", "pocket"}


def test_the_same_tongue_on_top_has_orders(pieces):
    """A near miss: the tongue folded back on the lid's own inside, the lower flap below both."""
    on_top = (glue(("lower", "back"), ("tongue", "back"), *AREA),)
    small = pieces.fold(TUCKED, on_top, 0.3, NO_FINGERS)
    layer = dict(zip(small.tree.panels, small.layers.layer, strict=True))
    assert [layer[name] for name in ("base", "lower", "tongue", "lid")] == [0, 1, 2, 3]
    assert small.orders.number > 0
