"""The folded model as data for the page: plates in a tree of nodes, the keys they move by, and when each step is."""

from __future__ import annotations

from typing import Any

from foldproof.checks.proof import Proof
from foldproof.drawing.scene import Node, Scene, Surface, nodes_in_order
from foldproof.drawing.style import palette_for
from foldproof.project.records import Project
from foldproof.views.folded_model import folded_model

Fields = dict[str, Any]

PLACES = 4  # decimals of a millimetre, of a second and of a turn


def model_of(project: Project, proof: Proof) -> Fields:
    """The scene of a proved project."""
    parts = tuple(part.evidence for part in proof.parts)
    scene = folded_model(project, parts, palette_for(project.cardstock.rgb), not_proved=proof.verdict != "proved")
    return scene_data(scene)


def scene_data(scene: Scene) -> Fields:
    """A scene with its nodes in order, each with the number of its parent (-1: none), so that parents come first."""
    nodes = nodes_in_order(scene.nodes)
    parents = {id(child): number for number, node in enumerate(nodes) for child in node.children}
    return {
        "clips": list(scene.clips),
        "materials": {material.name: material.colour for material in scene.materials},
        "nodes": [_node(node, parents.get(id(node), -1)) for node in nodes],
    }


def _node(node: Node, parent: int) -> Fields:
    return {
        "name": node.name,
        "parent": parent,
        "at": _rounded(node.at_mm),
        "turn": _rounded(node.turn),
        "about": dict(node.about),
        "plate": _plate(node.surfaces),
        "tracks": [
            {
                "clip": track.clip,
                "path": track.path,
                "times": _rounded(track.times_s),
                "values": [_rounded(value) for value in track.values],
            }
            for track in node.tracks
        ],
    }


def _plate(surfaces: tuple[Surface, ...]) -> Fields | None:
    """A plate by its upper side's corners and triangles, and how far below it the under side lies; None for no plate.

    The page draws both sides and finds the outline itself: the sides that only one triangle has.
    """
    if len(surfaces) < 2:
        return None
    upper, under = surfaces[0], surfaces[1]
    return {
        "points": [_rounded(point) for point in upper.points],
        "triangles": [list(corners) for corners in upper.triangles],
        "thick": round(upper.points[0][2] - under.points[0][2], PLACES),
        "upper": upper.material,
        "under": under.material,
    }


def _rounded(values: tuple[float, ...]) -> list[float]:
    return [round(value, PLACES) + 0.0 for value in values]
