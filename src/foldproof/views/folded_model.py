"""The proved thing as a scene: a node for every panel, folded step by step, put together, its lid turned.

Flat, the pieces lie side by side on the table; the first piece of each thing stays where it is, the others are carried
to it in the order of the steps.
"""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from foldproof.checks.evidence import Evidence
from foldproof.drawing.scene import Material, Node, Scene, nodes_in_order
from foldproof.drawing.style import Palette
from foldproof.geometry.plane import Point
from foldproof.project.records import Project
from foldproof.views.model_lid import model_lid, swept_mm
from foldproof.views.model_piece import (
    COLOURED,
    CUT_EDGE,
    FOLD,
    GAP_MM,
    PLAIN,
    Names,
    Table,
    Thing,
    Way,
    carried,
    laid,
    piece_node,
    thing_of,
)

TURN = "turn lid"  # the clip of a lid; with several lids each has its own, "turn lid NAME"
WHITE = "#ffffff"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """One finished thing: its nodes in the frame of its base, and the room that it needs from left to right."""

    nodes: tuple[Node, ...]
    materials: tuple[Material, ...]
    end_s: float
    left_mm: float
    right_mm: float
    floor_mm: float


def folded_model(project: Project, parts: Sequence[Evidence], palette: Palette, *, not_proved: bool) -> Scene:
    """The scene of a whole project, from the evidence its proof stands on.

    Its clips are "fold", from flat pieces to the finished thing, and "turn lid" for every turning lid. A piece for
    which no order was found is folded from the start.
    """
    lids = [part for part in parts if part.turning is not None]
    clip_of = {lid.part.name: TURN if len(lids) == 1 else f"{TURN} {lid.part.name}" for lid in lids}
    names = _panel_names(parts)
    nodes: list[Node] = []
    materials = _card_materials(project, palette)
    right_mm, now = None, 0.0
    for host in parts:
        if host.turning is not None:
            continue
        made = _made(host, [lid for lid in lids if lid.part.on == host.part.name], names, clip_of, now)
        x = 0.0 if right_mm is None else right_mm + GAP_MM - made.left_mm
        nodes.append(Node(name=f"thing-{host.part.name}", at_mm=(x, 0.0, made.floor_mm), children=made.nodes))
        right_mm, now = x + made.right_mm, made.end_s
        materials += made.materials
    everything = nodes_in_order(nodes)
    moved = {track.clip for node in everything for track in node.tracks}
    seen = {surface.material for node in everything for surface in node.surfaces}
    return Scene(
        name=project.name,
        nodes=tuple(nodes),
        materials=tuple(each for each in dict.fromkeys(materials) if each.name in seen),
        clips=tuple(clip for clip in (FOLD, *clip_of.values()) if clip in moved),
        about=(("project", project.name), ("verdict", "not proved" if not_proved else "proved")),
    )


def _card_materials(project: Project, palette: Palette) -> list[Material]:
    edge = WHITE if project.cardstock.core == "white" else palette.coloured_shade
    return [
        Material(name=COLOURED, colour=palette.coloured),
        Material(name=PLAIN, colour=palette.plain),
        Material(name=CUT_EDGE, colour=edge),
    ]


def _panel_names(parts: Sequence[Evidence]) -> Names:
    """A name for each panel: its own, or with its piece's and its part's before it where others are called the same."""
    keys = [
        (part.part.name, piece.tree.piece.id, panel)
        for part in parts
        for piece in part.pieces
        for panel in piece.tree.panels
    ]
    found = {}
    for key in keys:
        for words in (1, 2, 3):
            if Counter(other[-words:] for other in keys)[key[-words:]] == 1:
                found[key] = "-".join(key[-words:])
                break
    return found


def _made(host: Evidence, lids: Sequence[Evidence], names: Names, clip_of: dict[str, str], start_s: float) -> _Made:
    """A part and the lids that turn on it. Only the first piece stays in its place from the start."""
    first, *others = _host_things(host)
    nodes = [piece_node(first, Way(fold_s=start_s), names)]
    materials: list[Material] = []
    now, tallest = start_s + first.folding_s, first.top_mm
    swept = [swept_mm(lid.turning) for lid in lids if lid.turning is not None]
    left = min([first.end_mm[0] - first.half_mm[0], *(low for low, _ in swept)])
    right = max([first.end_mm[0] + first.half_mm[0], *(high for _, high in swept)])
    table = Table(
        left_mm=right + GAP_MM,
        width_mm=2.0 * first.half_mm[0],
        at_mm=(right + GAP_MM, first.end_mm[1] + first.half_mm[1]),
        right_mm=right,
    )
    for thing in others:
        bench, table = laid(table, thing)
        way = carried(thing, bench, now, tallest)
        nodes.append(piece_node(thing, way, names))
        now, tallest = way.legs[-1].end_s, max(tallest, thing.top_mm)
    for lid in lids:
        assert lid.turning is not None, "only what turns is put on a part"
        clip = clip_of[lid.part.name]
        made = model_lid(lid, lid.turning, names, clip=clip, start_s=now, table=table, tallest_mm=tallest)
        nodes += made.nodes
        materials += made.materials
        now, table = made.end_s, made.table
    return _Made(
        nodes=tuple(nodes),
        materials=tuple(materials),
        end_s=now,
        left_mm=left,
        right_mm=table.right_mm,
        floor_mm=0.5 * first.thickness_mm,
    )


def _host_things(host: Evidence) -> list[Thing]:
    """The pieces of a part in the frame of the finished thing: the middle of its base is at the origin."""
    middle = _middle_of(host)
    placement_of = {placement.piece: placement for placement in host.assembly.placements}
    found = []
    for piece in host.pieces:
        placement = placement_of[piece.tree.piece.id]
        x, y, z = placement.shift_mm
        moved = dataclasses.replace(placement, shift_mm=(x - middle[0], y - middle[1], z))
        found.append(thing_of(host.part.name, piece, moved))
    return found


def _middle_of(host: Evidence) -> Point:
    """The origin of a thing's frame in its first piece: the middle of its base."""
    if host.assembly.forms:
        return host.assembly.forms[0].centre
    piece = host.pieces[0].tree.piece
    return (0.5 * piece.blank_width_mm, 0.5 * piece.blank_height_mm)
