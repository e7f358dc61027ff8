"""The folded model the page plays: it begins flat, ends in the proved pose, and its steps run in order."""

import itertools
import json
import math

import numpy as np
import pytest

from foldproof.design.workbench.proof import first_unit
from foldproof.folding.tree import pose
from foldproof.service.starting import example_names, example_text
from foldproof.service.workbench import jobs
from foldproof.views import model_motion

NEAR_MM = 0.02  # the page is sent four decimals, and a panel hangs on as many as five others
TURNS = np.eye(3)


def turned(turn, point):
    x, y, z, w = np.array(turn) / np.linalg.norm(turn)
    q = np.array([x, y, z])
    return point + 2 * np.cross(q, np.cross(q, point) + w * point)


def keyed(track, time):
    """A value between keys: places along a line, turns the shorter way (the keys are a few degrees apart)."""
    times, values = np.array(track["times"]), np.array(track["values"], dtype=float)
    if track["path"] == "turn":
        for at in range(1, len(values)):
            if values[at] @ values[at - 1] < 0:
                values[at] = -values[at]
    return np.array([np.interp(time, times, column) for column in values.T])


def places(model, time, clip="fold"):
    """World-from-node of every node: a turn matrix and a place."""
    found = []
    for node in model["nodes"]:
        own = {track["path"]: keyed(track, time) for track in node["tracks"] if track["clip"] == clip}
        turn, at = own.get("turn", node["turn"]), np.array(own.get("move", node["at"]))
        matrix = np.array([turned(turn, axis) for axis in TURNS]).T
        if node["parent"] >= 0:
            parent, origin = found[node["parent"]]
            matrix, at = parent @ matrix, origin + parent @ at
        found.append((matrix, at))
    return found


class Shown:
    """A project's proof, and what the page is told of it."""

    def __init__(self, name):
        text = example_text(name)
        self.project_proof = jobs._proved(text)[1]
        proof, _, model = jobs.proved(text.encode()).partition(b"\n")
        self.proof, self.model = json.loads(proof), json.loads(model)

    def folded(self):
        return [
            (part.evidence.part.name, piece)
            for part in self.project_proof.parts
            for piece in part.evidence.pieces
            if piece.tree.piece.creases
        ]

    def number(self, part, piece, panel):
        wanted = {"part": part, "piece": piece.tree.piece.id, "panel": panel}
        (found,) = [n for n, node in enumerate(self.model["nodes"]) if wanted.items() <= node["about"].items()]
        return found

    def worst_mm(self, part, piece, time, expected):
        """The largest distance of any panel's corners from where they should be, seen from the piece's root."""
        world = places(self.model, time)
        tree = piece.tree
        root, origin = world[self.number(part, piece, tree.panels[0])]
        worst = 0.0
        for index, panel in enumerate(tree.panels):
            turn, at = world[self.number(part, piece, panel)]
            hinge = np.array(model_motion.hinge(tree, index))
            for x, y in tree.outline(index):
                here = root.T @ (turn @ (np.array([x, y, 0.0]) - hinge) + at - origin)
                there = expected[index][:3] @ np.array([x, y, 0.0, 1.0])
                worst = max(worst, float(np.linalg.norm(here - there)))
        return worst


@pytest.fixture(scope="module")
def all_shown():
    return {name: Shown(name) for name in example_names()}


@pytest.fixture(params=example_names())
def shown(request, all_shown):
    return all_shown[request.param]


def test_it_ends_in_the_proved_pose(shown):
    end = max(step["to"] for step in shown.proof["steps"] if step["clip"] == "fold")
    for part, piece in shown.folded():
        expected = pose(piece.tree, np.ones((1, len(piece.tree.piece.creases))), piece.layers.shifts_mm)[0]
        assert shown.worst_mm(part, piece, end, expected) < NEAR_MM


def test_it_begins_flat(shown):
    for part, piece in shown.folded():
        if piece.orders.ranked:
            assert shown.worst_mm(part, piece, 0.0, np.tile(np.eye(4), (len(piece.tree.panels), 1, 1))) < NEAR_MM


def test_a_plate_is_what_its_triangles_say(shown):
    """Every corner is used, and both sides lie as far apart as the card is thick."""
    thick = {(part, piece.tree.piece.id): piece.layers.thickness_mm for part, piece in shown.folded()}
    plates = [node for node in shown.model["nodes"] if node["plate"]]
    assert plates
    for node in plates:
        plate = node["plate"]
        assert {corner for triangle in plate["triangles"] for corner in triangle} == set(range(len(plate["points"])))
        assert {plate["upper"], plate["under"]} <= set(shown.model["materials"])
        where = (node["about"].get("part"), node["about"].get("piece"))
        assert plate["thick"] == pytest.approx(thick.get(where, plate["thick"]), abs=1e-3)
        assert plate["thick"] > 0


def test_steps_run_in_order_and_none_of_a_clip_overlaps_the_one_before(shown):
    steps = shown.proof["steps"]
    assert all(step["from"] < step["to"] and step["title"] and step["text"] for step in steps)
    folding = [step for step in steps if step["clip"] == "fold"]
    assert folding == steps[: len(folding)], "the lid is turned when all is folded"
    assert folding[0]["from"] == 0.0
    for one, other in itertools.pairwise(folding):
        assert one["to"] <= other["from"] + 1e-6, (one["title"], other["title"])


def test_every_step_moves_what_it_names(shown):
    for step in (each for each in shown.proof["steps"] if each["clip"] == "fold"):
        before, after = (places(shown.model, step[end]) for end in ("from", "to"))
        for name in step["names"]:
            numbers = [
                number
                for number, node in enumerate(shown.model["nodes"])
                if node["about"].get("panel") == name and node["about"].get("part") == step["part"]
            ]
            assert numbers, name
            moves = [np.abs(before[n][1] - after[n][1]).max() for n in numbers]
            turns = [np.abs(before[n][0] - after[n][0]).max() for n in numbers]
            assert max(*moves, *turns) > 1e-3, (step["title"], name)


def test_the_lid_is_turned_as_far_as_the_proof_says(all_shown):
    shown = all_shown["tidepool"]
    step = shown.proof["steps"][-1]
    opened = next(
        part.evidence.turning.analysis.opened.angle_deg for part in shown.project_proof.parts if part.evidence.turning
    )
    layer = next(n for n, node in enumerate(shown.model["nodes"]) if node["about"].get("piece") == "layer_1")
    before, after = (places(shown.model, step[end], step["clip"])[layer][0] for end in ("from", "to"))
    angle = math.degrees(math.acos((np.trace(before.T @ after) - 1) / 2))
    assert angle == pytest.approx(abs(opened), abs=0.1)


def test_every_finding_has_a_place_to_look_at(shown):
    names = {node["about"].get("panel") for node in shown.model["nodes"]}
    for finding in shown.proof["findings"]:
        look = finding["show"]
        assert look["what"] in ("fold", "lid", "sheet")
        assert finding["title"] and finding["why"] and finding["measured"]
        if look["what"] == "fold":
            assert 0 <= look["step"] < len(shown.proof["steps"])
            assert not look["names"] or set(_bare(look["names"])) & (names | _pieces(shown)), finding["code"]


def _bare(names):
    return [name.rpartition(":")[2] for name in names]


def _pieces(shown):
    return {node["about"].get("piece") for node in shown.model["nodes"]}


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("3 1/4 in (8.3 cm)", ("3 1/4 in", "8.3 cm")),
        ("1/8 in (3 mm) over", ("1/8 in over", "3 mm")),
        ("86 %", ("86 %", "")),
        ("12", ("12", "")),
    ],
)
def test_a_size_in_both_units_is_told_in_two(said, told):
    assert first_unit(said) == told
