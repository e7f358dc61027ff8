"""Binary glTF: read back byte by byte against the rules of the standard, and by another library."""

import io
import json
import math
import struct

import numpy as np
import pytest
import trimesh

from foldproof.drawing.extrusion import extruded
from foldproof.drawing.scene import Material, Node, Scene, Surface, Track
from foldproof.exports.glb import scene_glb

SQUARE = ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0))
HOLE = ((5.0, 5.0), (9.0, 5.0), (9.0, 9.0), (5.0, 9.0))
STAR = tuple(
    (50.0 * (1 + 0.2 * math.cos(10 * t)) * math.cos(t), 50.0 * (1 + 0.2 * math.cos(10 * t)) * math.sin(t))
    for t in (2 * math.pi * n / 300 for n in range(300))
)
SIDES = ("upper", "under", "edge")
HALF = math.sqrt(0.5)


def shoelace(outline):
    return 0.5 * sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True))


def a_scene(**changes):
    lid = Node(
        name="lid",
        at_mm=(40.0, 0.0, 0.0),
        turn=(0.0, -HALF, 0.0, HALF),
        surfaces=extruded(SQUARE, (), -0.1, 0.1, SIDES),
        tracks=(
            Track(clip="open", path="turn", times_s=(0.0, 1.0), values=((0.0, 0.0, 0.0, 1.0), (0.0, -HALF, 0.0, HALF))),
            Track(clip="open", path="move", times_s=(0.0, 1.0), values=((40.0, 0.0, 0.0), (40.0, 0.0, 5.0))),
        ),
        about=(("kind", "lid"),),
    )
    base = Node(name="base", surfaces=extruded(SQUARE, (HOLE,), -0.1, 0.1, SIDES), children=(lid,))
    values = {
        "name": "A box",
        "nodes": (base,),
        "materials": tuple(Material(name=side, colour="#336699") for side in SIDES),
        "clips": ("open",),
        "about": (("verdict", "proved"),),
    }
    return Scene(**(values | changes))


# --- Read by hand -------------------------------------------------------------------------------------------

COMPONENTS = {5126: ("f", 4), 5123: ("H", 2)}
WIDTHS = {"SCALAR": 1, "VEC3": 3, "VEC4": 4}


def chunks(data):
    """The JSON and the buffer of a file; the container's own rules are asserted."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    found, at = [], 12
    while at < len(data):
        size, kind = struct.unpack_from("<I4s", data, at)
        assert size % 4 == 0
        found.append((kind, data[at + 8 : at + 8 + size]))
        at += 8 + size
    assert [kind for kind, _ in found] == [b"JSON", b"BIN\0"]
    return json.loads(found[0][1]), found[1][1]


def rows(gltf, buffer, number):
    """The numbers of an accessor, as stored."""
    accessor = gltf["accessors"][number]
    view = gltf["bufferViews"][accessor["bufferView"]]
    letter, size = COMPONENTS[accessor["componentType"]]
    wide = WIDTHS[accessor["type"]]
    start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
    step = view.get("byteStride", wide * size)
    return [struct.unpack_from(f"<{wide}{letter}", buffer, start + n * step) for n in range(accessor["count"])]


def check_structure(data):
    """What can be checked of glTF 2.0 without its schema: references, alignment, bounds, units."""
    gltf, buffer = chunks(data)
    assert gltf["asset"]["version"] == "2.0"
    assert set(gltf["asset"]) <= {"version", "generator", "extras"}
    (whole,) = gltf["buffers"]
    assert "uri" not in whole
    assert 0 <= len(buffer) - whole["byteLength"] <= 3
    for view in gltf["bufferViews"]:
        assert view.get("byteOffset", 0) % 4 == 0
        assert view.get("byteOffset", 0) + view["byteLength"] <= whole["byteLength"]
    for number, accessor in enumerate(gltf["accessors"]):
        view = gltf["bufferViews"][accessor["bufferView"]]
        _, size = COMPONENTS[accessor["componentType"]]
        step = view.get("byteStride", size * WIDTHS[accessor["type"]])
        assert accessor.get("byteOffset", 0) % size == 0
        assert accessor.get("byteOffset", 0) + step * accessor["count"] <= view["byteLength"]
        values = rows(gltf, buffer, number)
        assert all(math.isfinite(value) for row in values for value in row)
        if "min" in accessor:
            assert accessor["min"] == [min(column) for column in zip(*values, strict=True)]
            assert accessor["max"] == [max(column) for column in zip(*values, strict=True)]
    check_meshes(gltf, buffer)
    check_nodes(gltf)
    check_animations(gltf, buffer)
    return gltf, buffer


def check_meshes(gltf, buffer):
    for mesh in gltf["meshes"]:
        for part in mesh["primitives"]:
            assert part["material"] < len(gltf["materials"])
            places, normals = part["attributes"]["POSITION"], part["attributes"]["NORMAL"]
            assert {"min", "max"} <= set(gltf["accessors"][places])
            count = gltf["accessors"][places]["count"]
            assert gltf["accessors"][normals]["count"] == count
            assert gltf["bufferViews"][gltf["accessors"][places]["bufferView"]]["target"] == 34962
            assert gltf["bufferViews"][gltf["accessors"][part["indices"]]["bufferView"]]["target"] == 34963
            corners = [corner for (corner,) in rows(gltf, buffer, part["indices"])]
            assert len(corners) % 3 == 0
            assert max(corners) < min(count, 65535)
            points = np.array(rows(gltf, buffer, places))
            unit = np.array(rows(gltf, buffer, normals))
            assert np.allclose(np.linalg.norm(unit, axis=1), 1.0, atol=1e-5)
            a, b, c = (points[corners[n::3]] for n in range(3))
            turned = np.cross(b - a, c - a)
            assert np.all(np.einsum("ij,ij->i", turned, unit[corners[::3]]) > 0)  # outside is where normals point
    for material in gltf["materials"]:
        colour = material["pbrMetallicRoughness"]["baseColorFactor"]
        assert len(colour) == 4
        assert all(0.0 <= channel <= 1.0 for channel in colour)


def check_nodes(gltf):
    parents = [child for node in gltf["nodes"] for child in node.get("children", ())]
    roots = gltf["scenes"][gltf["scene"]]["nodes"]
    assert sorted([*parents, *roots]) == list(range(len(gltf["nodes"])))  # one tree: each hangs on one thing
    for node in gltf["nodes"]:
        assert node.get("mesh", 0) < len(gltf.get("meshes", ()))
        assert len(node.get("translation", (0, 0, 0))) == 3
        assert math.hypot(*node.get("rotation", (0, 0, 0, 1))) == pytest.approx(1.0, abs=1e-6)


def check_animations(gltf, buffer):
    for animation in gltf.get("animations", ()):
        targets = [(channel["target"]["node"], channel["target"]["path"]) for channel in animation["channels"]]
        assert len(set(targets)) == len(targets)
        for channel in animation["channels"]:
            sampler = animation["samplers"][channel["sampler"]]
            assert sampler.get("interpolation", "LINEAR") == "LINEAR"
            times = [time for (time,) in rows(gltf, buffer, sampler["input"])]
            assert {"min", "max"} <= set(gltf["accessors"][sampler["input"]])
            assert times == sorted(set(times))
            assert times[0] >= 0.0
            values = rows(gltf, buffer, sampler["output"])
            assert len(values) == len(times)
            path = channel["target"]["path"]
            assert len(values[0]) == {"rotation": 4, "translation": 3}[path]
            if path == "rotation":
                assert all(math.hypot(*value) == pytest.approx(1.0, abs=1e-6) for value in values)


# --- Tests --------------------------------------------------------------------------------------------------


def test_the_file_keeps_the_rules():
    gltf, _ = check_structure(scene_glb(a_scene()))
    assert [node["name"] for node in gltf["nodes"]] == ["base", "lid"]
    assert gltf["nodes"][1]["extras"] == {"kind": "lid"}
    assert gltf["asset"]["extras"] == {"verdict": "proved"}
    assert [animation["name"] for animation in gltf["animations"]] == ["open"]


def test_metres_and_y_up():
    gltf, buffer = check_structure(scene_glb(a_scene()))
    lid = gltf["nodes"][1]
    assert lid["translation"] == [0.04, 0.0, 0.0]
    # y, away from the viewer, is -z there, so a turn of -90 degrees about y is one of 90 degrees about z.
    assert lid["rotation"] == pytest.approx([0.0, 0.0, HALF, HALF], abs=1e-9)
    upper = gltf["meshes"][0]["primitives"][0]["attributes"]["POSITION"]
    assert gltf["accessors"][upper]["min"] == pytest.approx([0.0, 0.0001, -0.02], abs=1e-9)
    assert gltf["accessors"][upper]["max"] == pytest.approx([0.04, 0.0001, 0.0], abs=1e-9)
    (move,) = [c for c in gltf["animations"][0]["channels"] if c["target"]["path"] == "translation"]
    output = gltf["animations"][0]["samplers"][move["sampler"]]["output"]
    assert rows(gltf, buffer, output)[-1] == pytest.approx((0.04, 0.005, 0.0), abs=1e-8)


def test_colours_are_linear():
    gltf, _ = chunks(scene_glb(a_scene()))
    # sRGB 0x33, 0x66, 0x99 as light, by the published curve of IEC 61966-2-1.
    expected = [0.033105, 0.132868, 0.318547, 1.0]
    assert gltf["materials"][0]["pbrMetallicRoughness"]["baseColorFactor"] == pytest.approx(expected, abs=1e-6)


def test_another_library_reads_the_same_shapes():
    loaded = trimesh.load_scene(io.BytesIO(scene_glb(a_scene())), file_type="glb")
    assert {"base", "lid"} <= set(loaded.graph.nodes)
    areas = sorted(round(mesh.area * 1e6, 3) for mesh in loaded.geometry.values())
    hole = shoelace(HOLE)
    edge, hole_edge = 2 * 60.0 * 0.2, 16.0 * 0.2
    assert areas == sorted([800.0, 800.0, edge, 800.0 - hole, 800.0 - hole, edge + hole_edge])
    low, high = loaded.bounds
    # The lid stands on the right edge of the base: x right, y up, z towards the viewer.
    assert low * 1000 == pytest.approx([0.0, -0.1, -20.0], abs=1e-4)
    assert high * 1000 == pytest.approx([40.1, 40.0, 0.0], abs=1e-4)


@pytest.mark.parametrize("outline", [SQUARE, STAR, SQUARE[:3]])
def test_an_extrusion_is_closed(outline):
    parts = extruded(outline, (), -0.15, 0.15, SIDES)
    meshes = [trimesh.Trimesh(part.points, part.triangles, process=False) for part in parts]
    solid = trimesh.util.concatenate(meshes)
    solid.merge_vertices(merge_norm=True)
    assert solid.is_watertight
    assert solid.volume == pytest.approx(abs(shoelace(outline)) * 0.3, rel=1e-9)
    assert [part.material for part in parts] == list(SIDES)


def test_holes_are_open():
    solid = trimesh.util.concatenate(
        [trimesh.Trimesh(p.points, p.triangles, process=False) for p in extruded(SQUARE, (HOLE,), 0.0, 0.5, SIDES)]
    )
    solid.merge_vertices(merge_norm=True)
    assert solid.is_watertight
    assert solid.volume == pytest.approx((800.0 - 16.0) * 0.5, rel=1e-9)
    assert solid.euler_number == 0


def test_same_scene_same_bytes():
    assert scene_glb(a_scene()) == scene_glb(a_scene())


def test_text_of_any_kind_stays_text():
    name = "</script>\u202e\U0001f4e6 \\ \" ' \x00" + "x" * 300
    gltf, _ = check_structure(scene_glb(a_scene(name=name, about=(("project", name),))))
    assert gltf["scenes"][0]["name"] == name
    assert gltf["asset"]["extras"]["project"] == name


def test_a_scene_without_clips_has_no_animation():
    scene = a_scene(nodes=(Node(name="base", surfaces=extruded(SQUARE, (), 0.0, 1.0, SIDES)),), clips=())
    gltf, _ = check_structure(scene_glb(scene))
    assert "animations" not in gltf
    assert len(gltf["bufferViews"]) == 2


def test_clips_are_listed_and_move_something():
    with pytest.raises(AssertionError, match="every clip is listed"):
        scene_glb(a_scene(clips=()))
    with pytest.raises(AssertionError, match="every clip is listed"):
        scene_glb(a_scene(clips=("open", "close")))


def test_records_refuse_what_is_nothing():
    with pytest.raises(AssertionError, match="keys in order"):
        Track(clip="a", path="move", times_s=(1.0, 1.0), values=((0.0, 0.0, 0.0),) * 2)
    with pytest.raises(AssertionError, match="unit"):
        Track(clip="a", path="turn", times_s=(1.0,), values=((0.0, 0.0, 0.0, 1.1),))
    with pytest.raises(AssertionError, match="unit"):
        Node(name="a", turn=(0.0, 0.0, 0.0, 0.5))
    with pytest.raises(AssertionError, match="corner nowhere"):
        Surface(material="a", points=((0.0,) * 3,), normals=((0.0, 0.0, 1.0),), triangles=((0, 0, 1),))
