"""What the page computes itself, held against the engine: what a lid uncovers and covers, and which face is nearer."""

import json
import math
import random

import numpy as np
import pytest
import shapely

from foldproof.geometry.cover import cover_margin
from foldproof.geometry.turn_area import overlap_areas
from foldproof.outlines.catalogue import FORMULAS, draw
from foldproof.service.starting import example_text
from foldproof.service.workbench import jobs

NEAR = 1e-6  # of an area's share, and of a millimetre
SENT_MM = 1e-3  # the page is sent four decimals
LIDS = 60
VIEW = {"yaw": -0.62, "pitch": 0.62}  # how the folded thing is seen at first
BEFORE_MM = 1.5  # faces nearer to each other than some thicknesses of card may lie either way round
EDGE_ON = 0.05  # of a unit normal towards the eye: a face seen from so far aside hides nothing
POINTS_OF_A_FACE = 40

PLANE = """async ({ lid, opening, rim, hole, degrees }) => {
  const plane = await import("/static/plane.js");
  return { shares: degrees.map((each) => plane.uncovered(lid, opening, hole, each)), margin: plane.margin(lid, rim) };
}"""

ORDER = """[...document.querySelectorAll('.fold path')]
  .map(({ dataset }) => [dataset.part ?? null, dataset.piece ?? null, dataset.panel ?? null])"""


def outlines():
    """Lids by formula and by chance, each moved by chance: (outline, box's sides, corner cut, hole)."""
    chance = random.Random(4)
    for number in range(LIDS):
        if number % 2:
            formula = FORMULAS[number % len(FORMULAS)]
            size = {value.name: value.usual for value in formula.values}
            size |= {name: chance.uniform(80, 160) for name in ("across", "side") if name in size}
            outline = [list(point) for point in draw(formula, size).outline]
        else:
            count = chance.randrange(5, 40)
            turns = [2 * math.pi * (at + chance.uniform(0, 0.8)) / count for at in range(count)]
            reach = [chance.uniform(30, 90) for _ in turns]
            outline = [[far * math.cos(turn), far * math.sin(turn)] for far, turn in zip(reach, turns, strict=True)]
        shift = chance.uniform(-12, 12), chance.uniform(-12, 12)
        lid = [[x + shift[0], y + shift[1]] for x, y in outline]
        if number % 3 == 0:
            lid.reverse()
        x, y, cut = chance.uniform(25, 55), chance.uniform(25, 55), chance.uniform(5, 20)
        rim = [[-x, -y], [x, -y], [x, y], [-x, y]]
        opening = [[-x, -y], [x, -y], [x, y], [cut - x, y], [-x, y - cut]]
        yield lid, rim, opening, [chance.uniform(-x, 0), chance.uniform(0, y)]


def test_what_a_turned_lid_uncovers_and_how_far_it_covers_is_what_the_engine_says(workbench, leaf):
    page = leaf()
    page.goto(workbench.address + "/share")
    covered = 0
    for lid, rim, opening, hole in outlines():
        degrees = [0, 7.5, -41, 90, 133.25, 180, -179]
        found = page.evaluate(PLANE, {"lid": lid, "opening": opening, "rim": rim, "hole": hole, "degrees": degrees})
        shared = overlap_areas(np.array(lid), np.array(opening), tuple(hole), np.radians(degrees))
        whole = shapely.Polygon(opening).area
        assert found["shares"] == pytest.approx((1 - shared / whole).tolist(), abs=NEAR)
        margin = cover_margin(np.array(lid), np.array(rim))
        if math.isinf(margin):
            assert found["margin"] is None
        else:
            covered += 1
            assert found["margin"] == pytest.approx(margin, abs=NEAR)
    assert covered > LIDS / 2


@pytest.mark.parametrize("example", ["tidepool", "gale-lid", "pebble-metric"])
def test_the_page_finds_of_a_lid_what_the_proof_found(workbench, leaf, example):
    project = workbench.begin(example)
    page = leaf()
    page.goto(workbench.address + "/share")
    lids = workbench.ask(f"/api/p/{project}")["lids"]
    assert lids
    for lid in lids:
        asked = {key: lid[key] for key in ("opening", "rim", "hole")} | {"lid": lid["outline"]}
        found = page.evaluate(PLANE, asked | {"degrees": [lid["opened_deg"]]})
        assert found["margin"] == pytest.approx(lid["margin_mm"], abs=SENT_MM)
        assert found["shares"] == [pytest.approx(lid["uncovered"], abs=SENT_MM)]


def test_a_lid_that_was_moved_covers_as_far_as_the_page_said(workbench, leaf):
    project = workbench.begin()
    (lid,) = workbench.ask(f"/api/p/{project}")["lids"]
    page = leaf()
    page.goto(workbench.address + "/share")
    for right, back in ((1, 0), (2, -1), (-3, 1)):
        by = [right * lid["step_mm"], back * lid["step_mm"]]
        moved = [[x + by[0], y + by[1]] for x, y in lid["outline"]]
        asked = {"lid": moved, "opening": lid["opening"], "rim": lid["rim"], "hole": lid["hole"], "degrees": []}
        said = page.evaluate(PLANE, asked)["margin"]
        version = workbench.ask(f"/api/p/{project}")["version"]
        changes = [{"path": path, "value": f"{by[axis]:.4f} mm"} for axis, path in enumerate(lid["moved_paths"])]
        kept = workbench.ask(f"/api/p/{project}/edit", {"version": version, "changes": changes})
        assert kept["lids"][0]["margin_mm"] == pytest.approx(said, abs=SENT_MM)


# --- Which face lies before which ---------------------------------------------------------------------------


def turned(turn, point):
    axis, w = np.array(turn[:3]), turn[3]
    return point + 2 * np.cross(axis, np.cross(axis, point) + w * point)


def keyed(track, time):
    """A value between keys; the keys of a turn are a few degrees apart, where a chord is as good as an arc."""
    values = np.array(track["values"], dtype=float)
    for at in range(1, len(values)):
        if track["path"] == "turn" and values[at] @ values[at - 1] < 0:
            values[at] = -values[at]
    found = np.array([np.interp(time, track["times"], column) for column in values.T])
    return found / np.linalg.norm(found) if track["path"] == "turn" else found


def faces(model, clock):
    """Each plate as it is seen: its name, its corners on the page, and its plane's depth at any of these."""
    world, found = [], []
    for node in model["nodes"]:
        turn, at = np.array(node["turn"]), np.array(node["at"])
        for track in node["tracks"]:
            value = keyed(track, clock[track["clip"]])
            turn, at = (value, at) if track["path"] == "turn" else (turn, value)
        matrix = np.array([turned(turn, axis) for axis in np.eye(3)]).T
        if node["parent"] >= 0:
            parent, origin = world[node["parent"]]
            matrix, at = parent @ matrix, origin + parent @ at
        world.append((matrix, at))
        if not node["plate"]:
            continue
        normal = seen(matrix @ np.array([0.0, 0.0, 1.0]))
        low = 0.0 if normal[2] > 0 else node["plate"]["thick"]
        points = np.array([seen(matrix @ (np.array(p) - [0, 0, low]) + at) for p in node["plate"]["points"]])
        triangles = [shapely.Polygon(points[list(corners)][:, :2]) for corners in node["plate"]["triangles"]]
        name = tuple(node["about"].get(key) for key in ("part", "piece", "panel"))
        found.append((name, shapely.union_all(triangles), points[0], normal))
    return found


def seen(point):
    (c, s), (d, e) = ((math.cos(VIEW[key]), math.sin(VIEW[key])) for key in ("yaw", "pitch"))
    across, away = c * point[0] - s * point[1], s * point[0] + c * point[1]
    return np.array([across, point[2] * d + away * e, point[2] * e - away * d])


def depth(face, x, y):
    _, _, (px, py, pz), (a, b, c) = face
    return pz - (a * (x - px) + b * (y - py)) / c


@pytest.mark.parametrize("example", ["tidepool", "shell-tray", "pebble-metric", "storm-tray"])
def test_no_nearer_face_is_drawn_before_one_that_it_hides(workbench, leaf, example):
    project = workbench.begin(example)
    page = leaf(reduced_motion="reduce")
    page.goto(f"{workbench.address}/p/{project}")
    page.wait_for_selector(".step-numbers button")
    proof, _, told = jobs.proved(example_text(example).encode()).partition(b"\n")
    steps, model = json.loads(proof)["steps"], json.loads(told)
    chance = np.random.default_rng(11)
    looked_at = 0
    for number, step in enumerate(steps):
        page.click(f".step-numbers button >> nth={number}")
        order = [tuple(name) for name in page.evaluate(ORDER)]
        ended = [clip for clip in model["clips"] if clip != step["clip"] and clip == "fold"]
        clock = {clip: math.inf if clip in ended else 0.0 for clip in model["clips"]} | {step["clip"]: step["to"]}
        drawn = faces(model, clock)
        assert sorted(order, key=str) == sorted((face[0] for face in drawn), key=str)
        assert len(set(order)) == len(order)
        drawn.sort(key=lambda face: order.index(face[0]))
        for at, one in enumerate(drawn):
            for other in drawn[at + 1 :]:
                if min(abs(one[3][2]), abs(other[3][2])) < EDGE_ON or not one[1].intersects(other[1]):
                    continue
                both = one[1].intersection(other[1]).buffer(-0.5)
                if both.is_empty:
                    continue
                left, low, right, high = both.bounds
                x = chance.uniform(left, right, POINTS_OF_A_FACE)
                y = chance.uniform(low, high, POINTS_OF_A_FACE)
                over = (depth(one, x, y) - depth(other, x, y))[shapely.contains_xy(both, x, y)]
                looked_at += len(over)
                assert (over < BEFORE_MM).all(), (step["title"], one[0], other[0])
    assert looked_at > 1000
