"""Outlines from an SVG drawing: every closed shape it shows, in mm.

Source: W3C, Scalable Vector Graphics (SVG) 2. What only changes how a shape looks is not read: colours, line widths,
patterns, filters. Clipping is not applied, and told.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

import numpy as np

from foldproof.errors import wrong
from foldproof.geometry.plane import SAME_MM, Array, Point
from foldproof.outlines.budget import FILE, MOST_FROM_ORIGIN_MM, Budget
from foldproof.outlines.cleaning import ACCURACY_MM, FLATTENED, refuse_accuracy
from foldproof.outlines.joining import JOIN_MM, Line, joined
from foldproof.outlines.rings import FillRule, Ring, filled
from foldproof.outlines.svg_path import SubPath, flattened
from foldproof.outlines.svg_shapes import BASIC, lines_of
from foldproof.outlines.svg_style import LOOK, Rule, look_within, own_style, rules_of
from foldproof.outlines.svg_values import (
    MM_PER_PX,
    SAME,
    Matrix,
    after,
    fitted,
    moved,
    px_of,
    transform_of,
    unit_of,
    unusable,
    view_box_of,
)
from foldproof.outlines.svg_xml import MOST_NESTING, svg_root
from foldproof.outlines.traced import Left, Traced, UnitFrom, traced_of

GROUPS = ("g", "a", "switch", "svg")
TEXTS = ("text",)
PICTURES = ("image", "video", "canvas", "iframe")
UNSEEN = (  # what is drawn only where it is used, or tells something about the drawing
    *("defs", "symbol", "clipPath", "mask", "pattern", "marker", "linearGradient", "radialGradient", "filter"),
    *("metadata", "title", "desc", "style", "view", "cursor", "font", "color-profile", "solidcolor"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where an element stands: what is around it."""

    matrix: Matrix  # from its user units to mm
    viewport: Point
    look: Mapping[str, str]
    name: str
    copied: tuple[str, ...]  # ids of what is being copied
    depth: int


def read_svg(data: bytes, *, accuracy_mm: float = ACCURACY_MM, join_mm: float = JOIN_MM) -> Traced:
    """The closed outlines of all shapes in an SVG file, in mm with +y up, largest first.

    A filled shape is closed as the standard fills it, and its holes are found by its fill rule. Lines without filling
    that are open are joined where their ends lie within ``join_mm``. Raises InputError (field "the file") when it is
    no SVG, too large, holds a script, refers to something outside itself, cannot be read, or holds no closed outline.
    """
    refuse_accuracy(accuracy_mm, FILE)
    budget = Budget()
    root = svg_root(data, budget)
    reading = _Reading(root, budget, FLATTENED * accuracy_mm, join_mm)
    matrix, viewport, unit, unit_from = _page(root, budget)
    place = _Place(matrix=matrix, viewport=viewport, look=LOOK, name="", copied=(), depth=0)
    reading.group(root, replace(place, look=reading.look_of(root, place)))
    chains = joined(reading.open_lines, join_mm)
    closed = [Ring(name=line.name, points=line.points) for line in chains.closed if len(line.points) > 2]
    rings = [*reading.rings, *closed]
    return traced_of(
        rings, chains.still_open, reading.left, accuracy_mm=accuracy_mm, unit=unit, unit_from=unit_from
    )


def _page(root: Element, budget: Budget) -> tuple[Matrix, Point, str, UnitFrom]:
    """From the root's user units to mm with +y up, its viewport in user units, and where the size comes from."""
    box = view_box_of(root.get("viewBox"), budget)
    width, height = root.get("width"), root.get("height")
    units = [unit_of(side) for side in (width, height)]
    wide = px_of(width or "", 0.0) if units[0] not in ("auto", "%") else None
    high = px_of(height or "", 0.0) if units[1] not in ("auto", "%") else None
    if any(side is not None and not 0.0 < side <= MOST_FROM_ORIGIN_MM for side in (wide, high)):
        raise unusable(f"{width} x {height}", "has a page of no size that can be read")
    # A side that is left out follows from the other and the view box; without both, user units are px.
    if box and wide is None:
        wide = high * box[2] / box[3] if high is not None else box[2]
    if box and high is None:
        high = wide * box[3] / box[2] if wide is not None else box[3]
    inner = fitted(box, wide or 1.0, high or 1.0, root.get("preserveAspectRatio")) if box else SAME
    inner = after(inner, transform_of(root.get("transform", ""), budget))
    page: Matrix = (MM_PER_PX, 0.0, 0.0, -MM_PER_PX, 0.0, MM_PER_PX * (high or 0.0))
    viewport = (box[2], box[3]) if box else (wide or 0.0, high or 0.0)
    told = next((unit for unit in units if unit not in ("auto", "%", "", "px")), "") if box else ""
    return after(page, inner), viewport, told or "px", "file" if told else "standard"


class _Reading:
    """What is found while the drawing is gone through. Grows, so it is no record."""

    def __init__(self, root: Element, budget: Budget, tolerance_mm: float, join_mm: float) -> None:
        self._budget = budget
        self._tolerance = tolerance_mm
        self._join = join_mm
        self._rules: Sequence[Rule] = rules_of(root, budget)
        self._ids: dict[str, Element] = {}
        for element in root.iter():
            self._ids.setdefault(element.get("id", ""), element)
        self.rings: list[Ring] = []
        self.open_lines: list[Line] = []
        self.left: Counter[Left] = Counter()

    def look_of(self, element: Element, place: _Place) -> dict[str, str]:
        """How an element looks where it stands."""
        return look_within(place.look, own_style(element, self._rules))

    def group(self, parent: Element, place: _Place) -> None:
        """All that is in a group."""
        for element in parent:
            self._element(element, place)

    def _element(self, element: Element, place: _Place) -> None:
        if element.tag in UNSEEN:
            return
        if place.depth > MOST_NESTING:
            raise wrong(FILE, "", f"has copies more than {MOST_NESTING} deep", "save the outline alone, as plain SVG")
        self._budget.spend("shapes and groups", 1)
        own = own_style(element, self._rules)
        if own.get("display") == "none":
            self.left["hidden"] += 1
            return
        if own.get("clip-path", "none") != "none" or own.get("mask", "none") != "none":
            self.left["clipping"] += 1
        inner = replace(
            place,
            matrix=after(place.matrix, transform_of(element.get("transform", ""), self._budget)),
            look=look_within(place.look, own),
            name=_name_of(element) or place.name,
            depth=place.depth + 1,
        )
        if element.tag in BASIC:
            self._shape(element, inner)
        elif element.tag == "svg":
            self.group(element, self._viewport_of(element, inner, element))
        elif element.tag in GROUPS:
            self.group(element, inner)
        elif element.tag == "use":
            self._copy(element, inner)
        else:
            self.left["text" if element.tag in TEXTS else "picture" if element.tag in PICTURES else "other"] += 1

    def _copy(self, use: Element, place: _Place) -> None:
        self._budget.spend("copies", 1)
        name = use.get("href", "").strip().removeprefix("#")
        if name in place.copied:
            raise wrong(FILE, f"#{name[:40]}", "copies itself without end", "save the outline alone, as plain SVG")
        target = self._ids.get(name) if name else None
        if target is None:
            self.left["other"] += 1
            return
        across, up = place.viewport
        x, y = px_of(use.get("x", "0"), across), px_of(use.get("y", "0"), up)
        inner = replace(place, matrix=after(place.matrix, moved(x, y)), copied=(*place.copied, name))
        if target.tag == "symbol":
            inner = replace(inner, look=self.look_of(target, inner), depth=inner.depth + 1)
            self.group(target, self._viewport_of(target, inner, use))
        else:
            self._element(target, inner)

    def _viewport_of(self, element: Element, place: _Place, sized: Element) -> _Place:
        """Within an ``svg`` or a symbol: its box of units laid into the size that ``sized`` gives it."""
        across, up = place.viewport
        width = px_of(sized.get("width") or "100%", across)
        height = px_of(sized.get("height") or "100%", up)
        shift = SAME
        if element.tag == "svg":
            shift = moved(px_of(element.get("x") or "0", across), px_of(element.get("y") or "0", up))
        box = view_box_of(element.get("viewBox"), self._budget)
        inner = fitted(box, width, height, element.get("preserveAspectRatio")) if box else SAME
        viewport = (box[2], box[3]) if box else (width, height)
        return replace(place, matrix=after(after(place.matrix, shift), inner), viewport=viewport)

    def _shape(self, element: Element, place: _Place) -> None:
        paths = lines_of(element, place.viewport, self._budget)
        if place.look["visibility"] != "visible":
            self.left["hidden"] += 1
            return
        is_filled = place.look["fill"] not in ("none", "transparent") and element.tag != "line"
        rings: list[Array] = []
        for path in paths:
            points = flattened(path, place.matrix, self._tolerance, self._budget)
            if is_filled or self._is_closed(path, points):
                if len(points) > 2:
                    self._budget.spend("closed outlines", 1)
                    rings.append(points)
            elif float(np.ptp(points, axis=0).max()) > SAME_MM:
                self.open_lines.append(Line(name=place.name, group="", points=points))
        rule: FillRule = "nonzero" if is_filled and place.look["fill-rule"] != "evenodd" else "evenodd"
        self.rings += filled(place.name, rings, rule)

    def _is_closed(self, path: SubPath, points: Array) -> bool:
        return path.closed or float(np.hypot(*(points[-1] - points[0]))) <= self._join


def _name_of(element: Element) -> str:
    """What a drawing calls a shape or a group: its label, its title or its id."""
    title = next((child.text for child in element if child.tag == "title" and child.text), "")
    return element.get("label") or title or element.get("id") or ""
