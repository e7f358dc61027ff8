"""English: shapes of the maker's own: what was read, what is on the shelf, which of them cover a box."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineWords:
    """What was found in a photograph or a drawing."""

    title: str = "Outline: {name}"
    several_title: str = "Several shapes"
    several: str = "The drawing holds {count} shapes. Say which one: --choose and its number or its name."
    several_columns: tuple[str, ...] = ("Number", "Name", "Wide", "High", "Area")
    more: str = "{count} smaller ones are not listed."
    kinds: Mapping[str, str] = table({"photograph": "a photograph", "svg": "an SVG drawing", "dxf": "a DXF drawing"})
    read_from: str = "Read from"
    unit_from: Mapping[str, str] = table(
        {
            "": "{kind}",
            "file": "{kind}, drawn in {unit}",
            "told": "{kind}, in {unit} as you say",
            "standard": "{kind} that states no size: 96 px to the inch",
        }
    )
    sharp: str = "{kind}, {sharp:.1f} pixels to the mm"
    widest: str = "Size across, at its widest"
    narrowest: str = "At its narrowest"
    box: str = "Wide and high"
    wide_and_high: str = "{width} and {height}"
    area: str = "Area"
    area_cm2: str = "{area:.1f} cm²"
    accuracy: str = "Accuracy"
    symmetry: str = "Symmetry"
    points: str = "Points"
    marks: str = "Tips and dips"
    sizes: str = "Sizes you own"
    source: str = "Source"
    size: str = "{size:.1f} mm ({inches})"
    to_within: str = "to within {accuracy:.2g} mm"
    mostly_within: str = "about {accuracy:.2g} mm, up to {farthest:.2g} mm at its worst place (an estimate)"
    doubt: str = "Look: {doubt}."
    round: str = "a disc: any turn leaves it as it is"
    turns: str = "{fold} turns leave it as it is"
    turns_and_mirrors: str = "{fold} turns leave it as it is, and {axes} mirror lines"
    one_mirror: str = "one mirror line"
    no_symmetry: str = "none"
    tips_and_dips: str = "{tips} and {dips}"
    nearly: str = (
        "Nearly symmetric ({symmetry}): --symmetric makes that exact; the edge moves by {change:.2f} mm at most."
    )
    trimmed: str = "What you cut off is left out."
    mended: Mapping[str, str] = table(
        {"one": "A small loop in the line was taken out.", "other": "{count} small loops in the line were taken out."}
    )
    holes: Mapping[str, str] = table(
        {"one": "A hole inside it is left out.", "other": "{count} holes inside it are left out."}
    )
    left_out: str = "Not read: {things}."
    check: str = "Look at it before you trust it: --picture OUT.svg shows it over a ruler."
    check_photograph: str = "Look at it before you trust it: --picture OUT.png shows it over your photograph."


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfWords:
    """What is on the maker's shelf of shapes."""

    title: str = "Your shapes"
    count: Mapping[str, str] = table({"one": "One shape is in {folder}", "other": "{count} shapes are in {folder}"})
    empty: str = "There is no shape in {folder} yet. Keep one: foldproof outline FILE --keep"
    columns: tuple[str, ...] = ("Name", "Sizes you own", "As drawn", "Accuracy", "Source")
    any_size: str = "any"


@dataclass(frozen=True, slots=True, kw_only=True)
class CoveringWords:
    """Which shapes cover a box."""

    title: str = "Shapes that cover: {name}"
    box: str = "Shapes for {part}"
    rim: str = "Its rim is {length} x {width} from outside, and a lid has to cover {margin} more on every side."
    some: str = "The smallest that covers stands first, at its best place. Sizes are from tip to tip."
    none: str = "None of these shapes covers it at a size you own. Those that miss least stand first."
    searched: str = (
        "All turns and places were searched: nowhere is a margin more than {within:.2g} mm larger than these."
    )
    columns: tuple[str, ...] = ("", "Shape", "Kept in", "Size", "Margin", "Turn it", "Move it")
    best: str = "best"
    other: str = "or"
    too_small: str = "too small"
    kept: Mapping[str, str] = table({"project": "the file", "shelf": "your shelf"})
    missing: str = "{size} missing"
    far: str = "far too small"
    any_turn: str = "any way"
    straight: str = "not at all"
    left: str = "{deg} degrees to the left"
    right: str = "{deg} degrees to the right"
    middle: str = "in the middle"
    to_right: str = "{size} right"
    to_left: str = "{size} left"
    to_back: str = "{size} back"
    to_front: str = "{size} forward"
