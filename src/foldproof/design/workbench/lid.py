"""A turning lid from above, as the page draws it: the outlines in the box's frame, and where the hole may go."""

from __future__ import annotations

from typing import Any

from foldproof.checks.turning_evidence import box_of, lid_limits, lid_on
from foldproof.constructions.parameters import values_of
from foldproof.constructions.turning_lid import TurningLidValues, closed_shift
from foldproof.design.measure import Measured, MeasuredPart
from foldproof.lengths import Length
from foldproof.lids.box import beside_diagonal
from foldproof.lids.records import LidAnalysis, TurningBox, TurningLid
from foldproof.lids.turning import analyse, covering_outline
from foldproof.pattern.records import Polygon
from foldproof.project.problems import field_path
from foldproof.project.records import Project

Fields = dict[str, Any]

PLACES = 4  # decimals of a millimetre the page is sent


def lid_of(project: Project, measured: Measured, part: MeasuredPart, *, heading: str = "parts") -> Fields | None:
    """The lid of a part, or None for a part that is none. ``heading`` is where the file has it."""
    values = part.part.values
    if not isinstance(values, TurningLidValues) or not isinstance(values.hole_from_corner, Length):
        return None
    host = next(each for each in measured.parts if each.part.name == part.part.on)
    box = box_of(project, values, host.assembly)
    sizes = tuple(piece.marked.measure_mm("size") for piece in part.pieces if piece.piece.id.startswith("layer_"))
    lid = lid_on(project, values, box, sizes, values.hole_from_corner.float_mm)
    found = analyse(box, lid, values.opens, lid_limits(project))
    ranges = {value.name: value for value in values_of(TurningLidValues)}
    return (
        geometry_of(box, lid)
        | figures_of(found)
        | {
            "part": part.part.name,
            "fills": [layer.fill for layer in values.layers],
            "unit": project.unit,
            "step_mm": project.ruler.step_length.float_mm,
            "steps_per_unit": int(1 / project.ruler.step),
            "least_mm": _known(ranges["hole_from_corner"].least).float_mm,
            "most_mm": values.strip.float_mm,
            "most_shift_mm": _known(ranges["moved_right"].most).float_mm,
            "cover_fail_mm": project.checks.cover_fail_mm,
            "cover_look_mm": project.checks.cover_look_mm,
            "shift": list(closed_shift(values)),
            "hole_path": _path(heading, part, "hole_from_corner"),
            "beside": list(beside_diagonal(box)),
            "beside_path": _path(heading, part, "hole_beside"),
            "moved_paths": [_path(heading, part, name) for name in ("moved_right", "moved_back")],
        }
    )


def _path(heading: str, part: MeasuredPart, name: str) -> str:
    return field_path(heading, part.part.name, name)


def _known(end: Length | None) -> Length:
    assert end is not None, "a length has a range"
    return end


def geometry_of(box: TurningBox, lid: TurningLid) -> Fields:
    """Outlines in mm, y away from the maker."""
    return {
        "outline": _points(covering_outline(lid)),
        "layers": [_points(layer.outline) for layer in lid.layers],
        "rim": _points(box.rim),
        "mouth": _points(box.mouth),
        "opening": _points(box.opening),
        "triangle": _points(box.triangle),
        "corner": _points((box.corner,))[0],
        "into": [round(box.into[0], 6), round(box.into[1], 6)],
        "hole": _points((lid.hole,))[0],
        "hole_mm": lid.fastener.hole_mm,
        "head_mm": lid.fastener.head_mm,
    }


def figures_of(found: LidAnalysis) -> Fields:
    """What is measured of the lid at its place."""
    return {
        "margin_mm": round(found.margin_mm, PLACES),
        "tolerance_mm": round(found.hole_tolerance_mm, PLACES),
        "opened_deg": found.opened.angle_deg,
        "uncovered": round(found.opened.uncovered, PLACES),
        "front": found.front,
        "sweep_mm": round(found.sweep_mm, PLACES),
        "curve": [[turn.angle_deg, round(turn.uncovered, PLACES)] for turn in found.curve],
    }


def _points(outline: Polygon) -> list[list[float]]:
    return [[round(x, PLACES) + 0.0, round(y, PLACES) + 0.0] for x, y in outline]
