"""The folding model of the examples: read back from its file and held against the pattern and the proof."""

import dataclasses
import io
import itertools
import json
import math
import struct

import numpy as np
import pytest
import shapely
import trimesh

from foldproof.checks.turning_evidence import _triangle_place
from foldproof.constructions.turning_lid import CAP, TRIANGLE
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.drawing.scene import nodes_in_order
from foldproof.drawing.style import SEA_GREEN
from foldproof.exports.glb import scene_glb
from foldproof.folding.joints import FoldedPiece, placed
from foldproof.folding.tree import pose
from foldproof.geometry.plane import signed_area
from foldproof.project.read import read_project
from foldproof.service.starting import example_names, example_text
from foldproof.views import model_motion
from foldproof.views.folded_model import folded_model

NAMES = example_names()
AT_KEYS_MM, BETWEEN_MM, ENDS_MM = 0.05, 0.3, 0.01
MOST_BYTES = 1_000_000
# Millimetres with z up to metres with y up, and back.
METRES_FROM_MM = np.array([[1.0, 0, 0, 0], [0, 0, 1.0, 0], [0, -1.0, 0, 0], [0, 0, 0, 1.0]])
WIDTHS = {"SCALAR": 1, "VEC3": 3, "VEC4": 4}


class Model:
    """A project's evidence, and its model as the file has it."""

    def __init__(self, project, proof):
        self.project, self.proof = project, proof
        self.parts = tuple(part.evidence for part in proof.parts)
        self.scene = folded_model(project, self.parts, SEA_GREEN, not_proved=proof.verdict != "proved")
        self.data = scene_glb(self.scene)
        (size,) = struct.unpack_from("<I", self.data, 12)
        self.gltf = json.loads(self.data[20 : 20 + size])
        self.buffer = self.data[28 + size :]
        self.parent = {c: n for n, node in enumerate(self.gltf["nodes"]) for c in node.get("children", ())}
        self.panels = {
            tuple(node["extras"][key] for key in ("part", "piece", "panel")): n
            for n, node in enumerate(self.gltf["nodes"])
            if "panel" in node.get("extras", {})
        }

    def rows(self, number):
        accessor = self.gltf["accessors"][number]
        view = self.gltf["bufferViews"][accessor["bufferView"]]
        wide = WIDTHS[accessor["type"]]
        start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
        flat = np.frombuffer(self.buffer, dtype="<f4", count=wide * accessor["count"], offset=start)
        return flat.reshape(-1, wide).astype(float)

    def keys(self, clip):
        """Times and values of a clip by node and path."""
        (animation,) = [each for each in self.gltf["animations"] if each["name"] == clip]
        found = {}
        for channel in animation["channels"]:
            sampler = animation["samplers"][channel["sampler"]]
            found[channel["target"]["node"], channel["target"]["path"]] = (
                self.rows(sampler["input"])[:, 0],
                self.rows(sampler["output"]),
            )
        return found

    def end_s(self, clip):
        return max(times[-1] for times, _ in self.keys(clip).values())

    def world(self, node, clip=None, time_s=0.0, known=None):
        """World-from-node in mm with z up, at rest or at a time of a clip, by the standard's own interpolation."""
        keys = known if known is not None else (self.keys(clip) if clip else {})
        world = np.eye(4)
        while node is not None:
            record = self.gltf["nodes"][node]
            place = np.array(record.get("translation", (0.0, 0.0, 0.0)))
            turn = np.array(record.get("rotation", (0.0, 0.0, 0.0, 1.0)))
            if (node, "translation") in keys:
                place = between(*keys[node, "translation"], time_s, lerp)
            if (node, "rotation") in keys:
                turn = between(*keys[node, "rotation"], time_s, slerp)
            local = np.eye(4)
            local[:3, :3] = matrix(turn)
            local[:3, 3] = place * 1000.0
            world = local @ world
            node = self.parent.get(node)
        return np.linalg.inv(METRES_FROM_MM) @ world @ METRES_FROM_MM


def between(times, values, time_s, mix):
    """glTF 2.0, section 3.11 and appendix C: clamped outside the keys, linear or spherical between them."""
    after = int(np.searchsorted(times, time_s, side="right"))
    if after == 0:
        return values[0]
    if after == len(times):
        return values[-1]
    share = (time_s - times[after - 1]) / (times[after] - times[after - 1])
    return mix(values[after - 1], values[after], share)


def lerp(one, other, share):
    return one + share * (other - one)


def slerp(one, other, share):
    one, other = one / np.linalg.norm(one), other / np.linalg.norm(other)
    cosine = float(one @ other)
    if cosine < 0:
        other, cosine = -other, -cosine
    angle = math.acos(min(1.0, cosine))
    if angle < 1e-9:
        return one
    return (math.sin((1 - share) * angle) * one + math.sin(share * angle) * other) / math.sin(angle)


def matrix(turn):
    x, y, z, w = turn / np.linalg.norm(turn)
    return np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
            [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
            [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
        ]
    )


@pytest.fixture(scope="module")
def models():
    found = {}
    for name in NAMES:
        project = read_project(example_text(name))
        found[name] = Model(project, prove(measure(project)))
    return found


@pytest.fixture(params=NAMES)
def model(request, models):
    return models[request.param]


@pytest.fixture
def tidepool(models):
    return models["tidepool"]


def folded_pieces(model):
    """Every piece with creases: part, evidence."""
    return [(part, piece) for part in model.parts for piece in part.pieces if piece.tree.piece.creases]


def relative(model, part, piece, keys, time_s):
    """Root-from-panel of each panel of a piece at a time of a clip, in flat coordinates."""
    tree, name = piece.tree, (part.part.name, piece.tree.piece.id)
    worlds = [model.world(model.panels[(*name, panel)], known=keys, time_s=time_s) for panel in tree.panels]
    root = np.linalg.inv(worlds[0])
    found = []
    for index, world in enumerate(worlds):
        flat = np.eye(4)
        flat[:3, 3] = np.negative(model_motion.hinge(tree, index))
        found.append(root @ world @ flat)
    return np.array(found)


def upper_side(model, node):
    """Corners of a panel's upper side as stored, in its node's frame: (n, 4), in mm with z up, outline first."""
    mesh = model.gltf["meshes"][model.gltf["nodes"][node]["mesh"]]
    points = 1000.0 * model.rows(mesh["primitives"][0]["attributes"]["POSITION"])
    return np.stack([points[:, 0], -points[:, 2], points[:, 1], np.ones(len(points))], axis=1)


def worst_mm(tree, found, expected):
    """The largest distance between two poses over all corners of all panels."""
    worst = 0.0
    for index in range(len(tree.panels)):
        corners = np.array([(x, y, 0.0, 1.0) for x, y in tree.outline(index)])
        worst = max(worst, float(np.linalg.norm(corners @ (found[index] - expected[index]).T, axis=1).max()))
    return worst


def fractions_at(tree, order, start_s, time_s):
    """How far each crease is folded at a time, in the proved order, eased."""
    fractions = np.zeros(len(tree.piece.creases))
    for position, step in enumerate(order):
        share = (time_s - start_s) / model_motion.FOLD_S - position
        fractions[list(tree.steps[step])] = model_motion.eased(min(1.0, max(0.0, share)))
    return fractions


def start_of(model, part, piece, keys):
    """When the folding of a piece begins: the first key of any of its panels."""
    name = (part.part.name, piece.tree.piece.id)
    return min(keys[model.panels[(*name, panel)], "rotation"][0][0] for panel in piece.tree.panels[1:])


# --- What is in it ------------------------------------------------------------------------------------------


def test_a_node_for_every_panel(model):
    wanted = {
        (part.part.name, piece.tree.piece.id, panel.id)
        for part in model.parts
        for piece in part.pieces
        for panel in piece.tree.piece.panels
    }
    assert set(model.panels) == wanted
    names = [node["name"] for node in model.gltf["nodes"]]
    assert len(set(names)) == len(names)
    for (_, _, panel), node in model.panels.items():
        assert names[node] == panel or names[node].endswith(f"-{panel}")
    loaded = trimesh.load_scene(io.BytesIO(model.data), file_type="glb")
    assert {names[node] for node in model.panels.values()} <= set(loaded.graph.nodes)


def test_a_panel_hangs_on_its_parent(model):
    for part, piece in folded_pieces(model):
        tree, name = piece.tree, (part.part.name, piece.tree.piece.id)
        for index in range(1, len(tree.panels)):
            child, parent = (model.panels[(*name, tree.panels[n])] for n in (index, tree.parent[index]))
            assert model.parent[child] == parent


def test_every_face_has_the_panels_area(model):
    """Both sides of every panel by another library, holes counted in the pieces that have them."""
    loaded = trimesh.load_scene(io.BytesIO(model.data), file_type="glb")
    meshes = {}
    for name in loaded.graph.nodes_geometry:
        _, geometry = loaded.graph[name]
        mesh = loaded.geometry[geometry]
        owner = name if name in {n["name"] for n in model.gltf["nodes"]} else loaded.graph.transforms.parents[name]
        meshes.setdefault(owner, []).append(mesh)
    for (part_name, piece_id, panel_id), node in model.panels.items():
        part = next(part for part in model.parts if part.part.name == part_name)
        piece = next(piece for piece in part.pieces if piece.tree.piece.id == piece_id)
        outline = next(panel.outline for panel in piece.tree.piece.panels if panel.id == panel_id)
        area = abs(signed_area(outline))
        if part.turning is not None and panel_id == piece.tree.piece.root:
            layers = {layer.name: layer for layer in part.turning.lid.layers}
            if piece_id in (TRIANGLE, CAP) or layers[piece_id].pierced:
                area -= math.pi * (0.5 * part.turning.lid.fastener.hole_mm) ** 2
        upper, under = sorted((m.area * 1e6 for m in meshes[model.gltf["nodes"][node]["name"]]), reverse=True)[:2]
        assert upper == pytest.approx(area, rel=1e-3)
        assert under == pytest.approx(area, rel=1e-3)


def test_card_is_as_thick_as_in_the_proof(model):
    for (part_name, piece_id, _), node in model.panels.items():
        part = next(part for part in model.parts if part.part.name == part_name)
        piece = next(piece for piece in part.pieces if piece.tree.piece.id == piece_id)
        mesh = model.gltf["meshes"][model.gltf["nodes"][node]["mesh"]]
        places = [model.gltf["accessors"][each["attributes"]["POSITION"]] for each in mesh["primitives"]]
        thick_mm = 1000 * (max(p["max"][1] for p in places) - min(p["min"][1] for p in places))
        assert thick_mm == pytest.approx(piece.layers.thickness_mm, abs=1e-4)


def test_the_two_sides_of_card_have_their_colours(tidepool):
    names = [material["name"] for material in tidepool.gltf["materials"]]
    mesh = tidepool.gltf["meshes"][tidepool.gltf["nodes"][tidepool.panels["tray", "tray", "base"]]["mesh"]]
    assert [names[part["material"]] for part in mesh["primitives"]] == ["plain side", "coloured side", "cut edge"]
    fills = [name for name in names if name.startswith("card ") and "shaded" not in name]
    assert fills == ["card #fbf7ee", "card #e9b9a6"]


# --- Folding ------------------------------------------------------------------------------------------------


def test_it_starts_flat(model):
    keys = model.keys("fold")
    for part, piece in folded_pieces(model):
        if piece.orders.ranked:
            found = relative(model, part, piece, keys, 0.0)
            assert worst_mm(piece.tree, found, np.tile(np.eye(4), (len(found), 1, 1))) < ENDS_MM


def test_the_pieces_lie_apart_on_the_table(model):
    keys = model.keys("fold")
    shapes = {}
    for (part, piece, _), node in model.panels.items():
        outline = upper_side(model, node) @ model.world(node, known=keys, time_s=0.0).T
        shapes.setdefault((part, piece), []).append(shapely.MultiPoint(outline[:, :2]).convex_hull)
    flat = [shapely.union_all(panels) for _, panels in sorted(shapes.items())]
    for one, other in itertools.combinations(flat, 2):
        assert one.distance(other) > 1.0


def test_it_ends_in_the_proved_pose(model):
    keys, end_s = model.keys("fold"), model.end_s("fold")
    for part, piece in folded_pieces(model):
        expected = pose(piece.tree, np.ones((1, len(piece.tree.piece.creases))), piece.layers.shifts_mm)[0]
        assert worst_mm(piece.tree, relative(model, part, piece, keys, end_s), expected) < ENDS_MM
        assert worst_mm(piece.tree, relative(model, part, piece, {}, 0.0), expected) < ENDS_MM


def test_it_ends_as_it_rests(model):
    keys, end_s = model.keys("fold"), model.end_s("fold")
    for node in range(len(model.gltf["nodes"])):
        assert model.world(node, known=keys, time_s=end_s) == pytest.approx(model.world(node), abs=1e-4)


def test_every_moment_is_a_pose_of_the_proof(model):
    """In the proved order, one step after the other; between keys too."""
    keys = model.keys("fold")
    for part, piece in folded_pieces(model):
        if not piece.orders.ranked:
            continue
        tree, order = piece.tree, piece.orders.ranked[0].steps
        start = start_of(model, part, piece, keys)
        step_s = model_motion.FOLD_S / model_motion.KEYS
        moments = [(start + step_s * n, AT_KEYS_MM) for n in range(0, model_motion.KEYS * len(order) + 1, 5)]
        moments += [(start + step_s * (n + 0.5), BETWEEN_MM) for n in range(0, model_motion.KEYS * len(order), 5)]
        for time_s, limit_mm in moments:
            fractions = fractions_at(tree, order, start, time_s)
            expected = pose(tree, fractions[None], piece.layers.shifts_mm)[0]
            assert worst_mm(tree, relative(model, part, piece, keys, time_s), expected) < limit_mm


def test_turns_are_keyed_finely(model):
    for animation in model.gltf["animations"]:
        for (_, path), (_, values) in model.keys(animation["name"]).items():
            if path == "rotation":
                cosines = np.abs(np.einsum("ij,ij->i", values[:-1], values[1:]))
                assert np.degrees(2 * np.arccos(np.minimum(1.0, cosines))).max() <= 10.0


def test_layers_part_while_they_fold(tidepool):
    """An inner wall ends two cards off its wall: the shift is in the file, not only the turn."""
    keys = tidepool.keys("fold")
    piece = tidepool.parts[0].pieces[0]
    for place in ("left", "right"):
        node = tidepool.panels["tray", "tray", f"inner_{place}"]
        _, places = keys[node, "translation"]
        moved_mm = 1000.0 * float(np.linalg.norm(places[-1] - places[0]))
        assert moved_mm == pytest.approx(2.0 * piece.layers.thickness_mm, rel=1e-4)


# --- Coming together ----------------------------------------------------------------------------------------


def test_a_lifted_lid_ends_where_the_proof_has_it(models):
    model = models["shell-tray"]
    part = model.parts[0]
    pieces = {piece.tree.piece.id: piece for piece in part.pieces}
    base = model.world(model.panels[part.part.name, "tray", "base"])
    for placement in part.assembly.placements:
        piece = pieces[placement.piece]
        expected = placed(FoldedPiece(tree=piece.tree, layers=piece.layers), placement)
        flat = np.eye(4)
        found = []
        for index, panel in enumerate(piece.tree.panels):
            flat[:3, 3] = np.negative(model_motion.hinge(piece.tree, index))
            found.append(np.linalg.inv(base) @ model.world(model.panels[part.part.name, placement.piece, panel]) @ flat)
        assert worst_mm(piece.tree, found, expected) < ENDS_MM


def test_a_lifted_lid_comes_straight_down_the_proved_way(models):
    model = models["shell-tray"]
    joint = model.parts[0].assembly.joints[0]
    keys, end_s = model.keys("fold"), model.end_s("fold")
    lid = model.panels[model.parts[0].part.name, joint.moving, "base"]
    end = model.world(lid)
    heights = []
    for time_s in np.linspace(end_s - model_motion.DOWN_S, end_s, 25):
        world = model.world(lid, known=keys, time_s=float(time_s))
        assert world[:3, :3] == pytest.approx(end[:3, :3], abs=1e-6)
        assert world[:2, 3] == pytest.approx(end[:2, 3], abs=1e-3)
        heights.append(world[2, 3] - end[2, 3])
    assert heights == sorted(heights, reverse=True)
    assert heights[0] >= joint.travel_mm
    assert heights[-1] == pytest.approx(0.0, abs=1e-3)


def lid_of(model):
    part = next(part for part in model.parts if part.turning is not None)
    host = next(other for other in model.parts if other.part.name == part.part.on)
    return part, host


@pytest.mark.parametrize("name", ["tidepool", "pebble-metric", "gale-lid"])
def test_the_triangle_stands_where_the_proof_tried_it(models, name):
    model = models[name]
    part, host = lid_of(model)
    form, turning = host.assembly.forms[0], part.turning
    piece = next(piece for piece in part.pieces if piece.tree.piece.id == TRIANGLE)
    folded_piece = FoldedPiece(tree=piece.tree, layers=piece.layers)
    placement = _triangle_place(turning.box, form, part.part.values, folded_piece)
    base = np.linalg.inv(model.world(model.panels[host.part.name, form.piece, "base"]))
    found = []
    for index, panel in enumerate(piece.tree.panels):
        flat = np.eye(4)
        flat[:3, 3] = np.negative(model_motion.hinge(piece.tree, index))
        found.append(base @ model.world(model.panels[part.part.name, TRIANGLE, panel]) @ flat)
    assert worst_mm(piece.tree, found, placed(folded_piece, placement)) < ENDS_MM


@pytest.mark.parametrize("name", ["tidepool", "pebble-metric", "gale-lid"])
def test_the_cap_lies_on_the_triangle_from_then_on(models, name):
    """One card above it, the whole way into the box; level with the rim at the end."""
    model = models[name]
    part, host = lid_of(model)
    keys = model.keys("fold")
    triangle, cap = (
        model.panels[part.part.name, piece, root] for piece, root in ((TRIANGLE, "triangle"), (CAP, "cap"))
    )
    thickness = part.pieces[0].layers.thickness_mm
    carried = model.parent[cap]
    ends = keys[carried, "translation"][0][-1]
    for time_s in np.linspace(ends - model_motion.DOWN_S - model_motion.ACROSS_S - model_motion.LIFT_S, ends, 30):
        one, other = (model.world(node, known=keys, time_s=float(time_s)) for node in (triangle, cap))
        between_them = np.linalg.inv(one) @ other
        assert between_them[:3, :3] == pytest.approx(np.eye(3), abs=1e-5)
        assert between_them[:3, 3] == pytest.approx((0.0, 0.0, thickness), abs=1e-3)
    base = model.world(model.panels[host.part.name, host.assembly.forms[0].piece, "base"])
    top_mm = model.world(cap)[2, 3] + 0.5 * thickness - base[2, 3]
    assert top_mm == pytest.approx(part.turning.box.rim_mm, abs=1e-3)


# --- The lid turns ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["tidepool", "pebble-metric", "gale-lid"])
def test_the_lid_turns_to_its_best_and_back(models, name):
    model = models[name]
    part, host = lid_of(model)
    turning, form = part.turning, host.assembly.forms[0]
    keys, end_s = model.keys("turn lid"), model.end_s("turn lid")
    opened_s = model_motion.TURN_S + 0.5 * model_motion.WAIT_S
    flat = np.eye(4)
    flat[:2, 3] = form.centre
    box = model.world(model.panels[host.part.name, form.piece, "base"]) @ flat  # the middle of the base
    angle = math.radians(turning.analysis.opened.angle_deg)
    hole = np.array(turning.lid.hole)
    turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    for layer in turning.lid.layers:
        node = model.panels[part.part.name, layer.name, "layer"]
        points = upper_side(model, node)[: len(layer.outline)]
        closed = np.array(layer.outline) if signed_area(layer.outline) > 0 else np.array(layer.outline)[::-1]
        opened = hole + (closed - hole) @ turn.T
        for time_s, expected in ((0.0, closed), (opened_s, opened), (end_s, closed)):
            seen = points @ (np.linalg.inv(box) @ model.world(node, known=keys, time_s=time_s)).T
            assert np.abs(seen[:, :2] - expected).max() < ENDS_MM
            assert seen[:, 2] == pytest.approx(turning.box.rim_mm + layer.high_mm, abs=1e-3)
    still = [model.panels[host.part.name, form.piece, "base"], model.panels[part.part.name, CAP, "cap"]]
    for node in still:
        assert model.world(node, known=keys, time_s=opened_s) == pytest.approx(model.world(node), abs=1e-9)


def test_clips(models):
    assert {name: model.scene.clips for name, model in models.items()} == {
        "gale-lid": ("fold", "turn lid"),
        "pebble-metric": ("fold", "turn lid"),
        "shell-tray": ("fold",),
        "storm-tray": ("fold",),
        "tidepool": ("fold", "turn lid"),
    }


# --- The file -----------------------------------------------------------------------------------------------


def test_same_evidence_same_bytes_and_not_many(model):
    again = folded_model(model.project, model.parts, SEA_GREEN, not_proved=model.proof.verdict != "proved")
    assert scene_glb(again) == model.data
    assert len(model.data) < MOST_BYTES


def test_it_says_what_is_proved(model):
    expected = "proved" if model.proof.verdict == "proved" else "not proved"
    assert model.gltf["asset"]["extras"] == {"project": model.project.name, "verdict": expected}


def test_without_an_order_it_is_folded_from_the_start(tidepool):
    """Nothing is invented: a piece that has no proved order does not fold."""
    nowhere = tuple(
        dataclasses.replace(
            part,
            pieces=tuple(
                dataclasses.replace(piece, orders=dataclasses.replace(piece.orders, ranked=())) for piece in part.pieces
            ),
        )
        for part in tidepool.parts
        if part.turning is None
    )
    scene = folded_model(tidepool.project, nowhere, SEA_GREEN, not_proved=True)
    assert scene.clips == ()
    assert all(node.tracks == () for node in nodes_in_order(scene.nodes))
    assert scene_glb(scene)


def test_two_lids_have_their_own_clips_and_names(tidepool):
    """A second box beside the first, with a lid of its own."""
    tray, lid = tidepool.parts
    others = (
        dataclasses.replace(tray, part=dataclasses.replace(tray.part, name="second")),
        dataclasses.replace(lid, part=dataclasses.replace(lid.part, name="second_lid", on="second")),
    )
    scene = folded_model(tidepool.project, (*tidepool.parts, *others), SEA_GREEN, not_proved=False)
    assert scene.clips == ("fold", "turn lid lid", "turn lid second_lid")
    names = [node.name for node in nodes_in_order(scene.nodes)]
    assert len(set(names)) == len(names)
    assert {"tray-tray-base", "second-tray-base"} <= set(names)
    loaded = trimesh.load_scene(io.BytesIO(scene_glb(scene)), file_type="glb")
    first, second = (loaded.graph[f"{name}-tray-base"][0][:3, 3] for name in ("tray", "second"))
    sweep_m = 1e-3 * lid.turning.analysis.sweep_mm
    assert second[0] - first[0] > 2 * sweep_m
