"""A scene as one binary glTF 2.0 file: metres, y up, colours linear, and no date: same scene, same bytes."""

from __future__ import annotations

import json
import struct
from collections.abc import Sequence
from itertools import chain
from typing import Any

from foldproof.drawing.scene import NO_TURN, Material, Node, Scene, Surface, Track, nodes_in_order
from foldproof.drawing.style import channels

GENERATOR = "Foldproof"
METRES = 0.001  # per millimetre
DIGITS = 9  # of metres and of turns: a nanometre. What is finer is noise that differs between machines
ROUGHNESS = 0.9  # of card: matt, with a little light along its edge
FLOAT_BYTES, INDEX_BYTES, POINT_BYTES = 4, 2, 12
MOST_POINTS = 65535  # that 16 bits can number, the last number being kept free by the standard (3.7.2.1)
KINDS = {1: "SCALAR", 3: "VEC3", 4: "VEC4"}
FLOAT, UNSIGNED_SHORT = 5126, 5123
ARRAY_BUFFER, ELEMENT_ARRAY_BUFFER = 34962, 34963
TRIANGLES = 4
PATHS = {"move": "translation", "turn": "rotation"}
MAGIC, VERSION = b"glTF", 2
HEADER_BYTES, CHUNK_HEADER_BYTES = 12, 8
JSON_CHUNK, BINARY_CHUNK = b"JSON", b"BIN\0"

Object = dict[str, Any]  # as the standard names its keys; what is None is not written

VERTICES, INDICES, KEYS = range(3)  # the three views of the buffer


class _Writing:
    """The buffer's three parts and their accessors while they are filled."""

    def __init__(self) -> None:
        self.parts = (bytearray(), bytearray(), bytearray())
        self.accessors: list[Object] = []
        self._known: dict[tuple[int, int, bool, bytes], int] = {}

    def numbers(self, view: int, rows: Sequence[Sequence[float]], *, bounds: bool) -> int:
        """Rows of floats; their accessor. Rows written before are not written again."""
        flat = list(chain.from_iterable(rows))
        data = struct.pack(f"<{len(flat)}f", *flat)
        wide = len(rows[0])
        if not bounds:
            return self._accessor(view, data, len(rows), wide, FLOAT)
        stored = struct.unpack(f"<{len(flat)}f", data)  # bounds are of what is stored, not of what was given
        columns = [stored[n::wide] for n in range(wide)]
        least, most = [min(column) for column in columns], [max(column) for column in columns]
        return self._accessor(view, data, len(rows), wide, FLOAT, least, most)

    def indices(self, corners: Sequence[int]) -> int:
        """Corners of triangles; their accessor."""
        return self._accessor(INDICES, struct.pack(f"<{len(corners)}H", *corners), len(corners), 1, UNSIGNED_SHORT)

    def _accessor(
        self,
        view: int,
        data: bytes,
        count: int,
        wide: int,
        component: int,
        least: list[float] | None = None,
        most: list[float] | None = None,
    ) -> int:
        key = (view, wide, least is None, data)
        if key not in self._known:
            self._known[key] = len(self.accessors)
            self.accessors.append(
                {
                    "bufferView": view,
                    "byteOffset": len(self.parts[view]),
                    "componentType": component,
                    "count": count,
                    "type": KINDS[wide],
                    "min": least,
                    "max": most,
                }
            )
            self.parts[view].extend(data)
        return self._known[key]


def scene_glb(scene: Scene) -> bytes:
    """The file. Asserts that no surface has more than 65 535 points, and that materials and clips are listed."""
    writing = _Writing()
    nodes = nodes_in_order(scene.nodes)
    number = {id(node): n for n, node in enumerate(nodes)}
    material = {each.name: n for n, each in enumerate(scene.materials)}
    meshes: list[Object] = []
    written = []
    for node in nodes:
        if node.surfaces:
            primitives = [_primitive(writing, each, material) for each in node.surfaces]
            meshes.append({"name": node.name, "primitives": primitives})
        written.append(_node(node, number, len(meshes) - 1 if node.surfaces else None))
    animations = [_animation(writing, clip, nodes) for clip in scene.clips]
    listed = {track.clip for node in nodes for track in node.tracks}
    assert listed == set(scene.clips), "every clip is listed, and moves something"
    data, views = _buffer(writing)
    told = {
        "asset": {"generator": GENERATOR, "version": "2.0", "extras": dict(scene.about)},
        "scene": 0,
        "scenes": [{"name": scene.name, "nodes": [number[id(node)] for node in scene.nodes]}],
        "nodes": written,
        "meshes": meshes,
        "materials": [_material(each) for each in scene.materials],
        "animations": animations,
        "accessors": writing.accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(data)}],
    }
    return _file(told, data)


def _file(told: Object, data: bytes) -> bytes:
    """The container: a header, the objects as JSON padded with spaces, the buffer padded with noughts (4.4)."""
    text = json.dumps(_given(told), ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode("utf-8")
    text += b" " * (-len(text) % FLOAT_BYTES)
    data += bytes(-len(data) % FLOAT_BYTES)
    chunks = b"".join(
        struct.pack("<I", len(chunk)) + kind + chunk for kind, chunk in ((JSON_CHUNK, text), (BINARY_CHUNK, data))
    )
    return MAGIC + struct.pack("<II", VERSION, HEADER_BYTES + len(chunks)) + chunks


def _given(told: Any) -> Any:
    """The same without what is None or empty: the standard allows neither."""
    if isinstance(told, list):
        return [_given(each) for each in told]
    if not isinstance(told, dict):
        return told
    return {name: _given(value) for name, value in told.items() if value is not None and value not in ([], {})}


def _node(node: Node, number: dict[int, int], mesh: int | None) -> Object:
    moved = node.at_mm != (0.0, 0.0, 0.0)
    turned = node.turn != NO_TURN
    return {
        "name": node.name,
        "mesh": mesh,
        "translation": list(_place(node.at_mm)) if moved else None,
        "rotation": list(_turn(node.turn)) if turned else None,
        "children": [number[id(child)] for child in node.children],
        "extras": dict(node.about),
    }


def _primitive(writing: _Writing, surface: Surface, material: dict[str, int]) -> Object:
    assert len(surface.points) <= MOST_POINTS, "a surface with more points than can be numbered"
    return {
        "attributes": {
            "POSITION": writing.numbers(VERTICES, [_place(point) for point in surface.points], bounds=True),
            "NORMAL": writing.numbers(VERTICES, [_upright(*normal) for normal in surface.normals], bounds=False),
        },
        "indices": writing.indices(list(chain.from_iterable(surface.triangles))),
        "mode": TRIANGLES,
        "material": material[surface.material],
    }


def _animation(writing: _Writing, clip: str, nodes: Sequence[Node]) -> Object:
    moving = [(n, track) for n, node in enumerate(nodes) for track in node.tracks if track.clip == clip]
    return {
        "name": clip,
        "samplers": [
            {
                "input": writing.numbers(KEYS, [(time,) for time in track.times_s], bounds=True),
                "output": writing.numbers(KEYS, _values(track), bounds=False),
                "interpolation": "LINEAR",
            }
            for _, track in moving
        ],
        "channels": [
            {"sampler": n, "target": {"node": node, "path": PATHS[track.path]}}
            for n, (node, track) in enumerate(moving)
        ],
    }


def _values(track: Track) -> list[tuple[float, ...]]:
    return [_place(value) if track.path == "move" else _turn(value) for value in track.values]


def _material(material: Material) -> Object:
    return {
        "name": material.name,
        "pbrMetallicRoughness": {
            "baseColorFactor": [*(_linear(channel) for channel in channels(material.colour)), 1.0],
            "metallicFactor": 0.0,
            "roughnessFactor": ROUGHNESS,
        },
    }


def _buffer(writing: _Writing) -> tuple[bytes, list[Object]]:
    """The bytes, each view begun at a multiple of four, and the views."""
    data = bytearray()
    views = []
    for part, stride, target in zip(
        writing.parts, (POINT_BYTES, None, None), (ARRAY_BUFFER, ELEMENT_ARRAY_BUFFER, None), strict=True
    ):
        if not part:  # only the last can be empty: a scene without clips
            continue
        views.append(
            {
                "buffer": 0,
                "byteOffset": len(data),
                "byteLength": len(part),
                "byteStride": stride,
                "target": target,
            }
        )
        data += part + bytes(-len(part) % FLOAT_BYTES)
    return bytes(data), views


def _place(point_mm: Sequence[float]) -> tuple[float, float, float]:
    x, y, z = (round(part * METRES, DIGITS) + 0.0 for part in _upright(*point_mm))
    return (x, y, z)


def _upright(x: float, y: float, z: float) -> tuple[float, float, float]:
    """A vector with z up as one with y up: a quarter turn about x."""
    return (x, z, 0.0 - y)  # nought less nought, not minus nought


def _turn(turn: Sequence[float]) -> tuple[float, float, float, float]:
    """A turn's axis is turned with everything else."""
    x, y, z, w = (round(part, DIGITS) + 0.0 for part in turn)
    return (*_upright(x, y, z), w)


def _linear(channel: float) -> float:
    """A channel of a written colour as light, 0 to 1 (IEC 61966-2-1)."""
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)
