"""A value as a control on the page: what may be written, its range in both units, its choices, how it is said."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from foldproof.constructions.parameters import OPEN, Value
from foldproof.design.fit_report import exact_text
from foldproof.lengths import MM_PER, Length, in_words, round_to
from foldproof.outlines.catalogue import FORMULAS, draw
from foldproof.outlines.own import OwnShape, at_size
from foldproof.outlines.record import Shape
from foldproof.pattern.records import Polygon
from foldproof.project.keys import Key
from foldproof.project.read import RULERS
from foldproof.project.records import Project
from foldproof.stock.board import NAMED_BOARDS
from foldproof.stock.sheets import NAMED_SHEETS
from foldproof.words.catalogue import ENGLISH, Language

Fields = dict[str, Any]

# What a record calls usual for these is only an example of what may be written.
EXAMPLES_ONLY = (
    "maker",
    "link",
    "cardstock.measured",
    "cardstock.weight",
    "cardstock.thickness",
    "papers.sheet",
)
BOX = 100.0  # side of the square that a choice's drawing stands in
EDGE = 6.0  # paper kept round it
PICTURE_STEP = 3  # every third point draws a shape well enough at the size of a thumb
SAMPLE_MM = 140.0  # shapes are drawn at one size, with their usual lobes


def control_of(
    project: Project, path: str, value: Value, typed: object, current: object, *, language: Language = ENGLISH
) -> Fields:
    """The control of one value of a construction.

    ``typed`` is what the file says (None: nothing), ``current`` the value it comes to. All texts are as a maker
    would write them.
    """
    found: Fields = {
        "path": path,
        "kind": value.kind,
        "label": language.workbench.value_labels.get(value.name, value.help),
        "value": typed_text(project, typed, current),
        "other": other_text(project, current),
        "usual": "" if value.default is None else value.default[0 if project.unit == "in" else 1],
        "may_be_left_out": value.default is not None and typed is not None,
        "may_be_open": value.may_be_open,
        "open_word": OPEN,
        "choices": [_choice(project, value, choice) for choice in _choices(project, value)],
    }
    if value.least is not None and value.most is not None:
        found |= _range(project, value.least, value.most)
    if isinstance(current, Length):
        found["mm"] = current.float_mm
    if value.kind in ("count", "angle"):
        found |= {"least": f"{value.fewest:g}", "most": f"{value.top:g}", "step": 1}
    return found


def key_control(project: Project, path: str, key: Key, typed: object, *, language: Language = ENGLISH) -> Fields:
    """The control of a key of the project itself, such as the cardstock's sheet.

    A key that must be there has no usual value to go back to: what its record calls so is an example.
    """
    usual = key.usual[0 if project.unit == "in" else 1]
    only_example = key.required or path in EXAMPLES_ONLY
    return {
        "path": path,
        "kind": "choice" if key.choices else "text",
        "label": language.workbench.labels.get(path, key.help),
        "value": language.workbench.list_join.join(map(str, typed)) if isinstance(typed, list) else _shown(typed),
        "other": "",
        "usual": "" if only_example else usual,
        "may_be_left_out": not key.required,
        "example": usual if path in EXAMPLES_ONLY else "",
        "may_be_open": False,
        "open_word": OPEN,
        "choices": [{"value": choice, "label": choice, "picture": ""} for choice in key.choices],
        "known": list(_known(project, path)),
    }


def _shown(typed: object) -> str:
    return "" if typed is None else str(typed)


def _known(project: Project, path: str) -> tuple[str, ...]:
    """Names that may be written for a key, among others."""
    match path:
        case "cardstock.sheet" | "papers.sheet":
            return tuple(named.size.name for named in NAMED_SHEETS)
        case "board.stops":
            return tuple(board.name for board in NAMED_BOARDS)
        case "ruler":
            return tuple(f"{ruler.step_length.mm / MM_PER[ruler.unit]} {ruler.unit}" for ruler in RULERS[project.unit])
    return ()


def setting_control(
    name: str, facts: Mapping[str, Any], current: float, usual: float, *, language: Language = ENGLISH
) -> Fields:
    """The control of one of the limits that a design is judged by."""
    unit = language.workbench.units.get(facts["unit"], "")
    return {
        "path": f"settings.{name}",
        "kind": "number",
        "label": facts["help"],
        "value": f"{current:g}",
        "other": unit,
        "usual": f"{usual:g}",
        "may_be_left_out": True,
        "may_be_open": False,
        "open_word": OPEN,
        "choices": [],
        "least": f"{facts['least']:g} {unit}".strip(),
        "most": f"{facts['most']:g} {unit}".strip(),
    }


def typed_text(project: Project, typed: object, current: object) -> str:
    """What stands in the control: what was typed, or what a missing value comes to."""
    if typed is not None and not isinstance(typed, list | dict):
        return str(typed)
    if isinstance(current, Length):
        return exact_text(current, project)
    if isinstance(current, OwnShape):
        return current.name
    return "" if current is None else str(current)


def other_text(project: Project, current: object) -> str:
    """A length on the other ruler."""
    return in_words(current, project.other_ruler) if isinstance(current, Length) else ""


def _range(project: Project, least: Length, most: Length) -> Fields:
    return {
        "least": round_to(least, project.ruler, "up").text,
        "most": round_to(most, project.ruler, "down").text,
        "least_mm": least.float_mm,
        "most_mm": most.float_mm,
        "step_mm": project.ruler.step_length.float_mm,
        "unit": project.unit,
        "steps_per_unit": int(Fraction(1) / project.ruler.step) if project.ruler.step else 1,
    }


def _choices(project: Project, value: Value) -> tuple[str, ...]:
    if value.kind == "shape":
        return (*(formula.name for formula in FORMULAS), *(shape.name for shape in project.shapes))
    if value.kind == "part":
        return tuple(part.name for part in project.parts)
    return value.choices


def _choice(project: Project, value: Value, choice: str) -> Fields:
    picture = shape_picture(project, choice) if value.kind == "shape" else ""
    return {"value": choice, "label": choice, "picture": picture}


def shape_picture(project: Project, name: str) -> str:
    """A shape as the data of a path in a square of 100, y down; "" for a name there is not."""
    own = next((shape for shape in project.shapes if shape.name == name), None)
    if own is not None:
        return path_data(at_size(own, SAMPLE_MM).outline)
    formula = next((formula for formula in FORMULAS if formula.name == name), None)
    if formula is None:
        return ""
    size: Mapping[str, float] = {
        each.name: SAMPLE_MM if each.name in ("across", "side") else each.usual for each in formula.values
    }
    drawn = draw(formula, size)
    return path_data(drawn.outline) if isinstance(drawn, Shape) else ""


def path_data(outline: Polygon) -> str:
    """An outline scaled into the square, as the data of a closed path."""
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    scale = (BOX - 2.0 * EDGE) / max(max(xs) - min(xs), max(ys) - min(ys))
    middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
    step = PICTURE_STEP if len(outline) > 100 else 1
    points = [
        f"{0.5 * BOX + scale * (x - middle[0]):.1f},{0.5 * BOX - scale * (y - middle[1]):.1f}"
        for x, y in outline[::step]
    ]
    return "M" + "L".join(points) + "Z"
