"""English: lids of another shape: how each is made without its die, and how they are told beside the lid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class AlternativeWords:
    """Lids of another shape: how each is made without its die, and how they are told beside the lid."""

    title: str = "If you do not have this shape"
    intro: str = (
        "Make one of these instead of the {of}. Box and corner triangle stay as they are. Only the lid is "
        "cut another way, and its hole is measured anew."
    )
    or_the: str = " or the "  # between the names of lids
    columns: tuple[str, ...] = ("Instead", "Size", "Hole from the box corner", "Opens", "To spare", "Proof")
    proved: str = "proved"
    not_proved: str = "not proved"
    not_decided: str = "not decided"
    verdicts: Mapping[str, str] = table({"proved": "proved", "not_proved": "not proved", "not_decided": "not decided"})
    named: str = "{name} ({shape})"
    percent: str = "{percent:.0f} %"
    missing: str = "{size} too small"
    one: str = "Instead of the {of}: {name}"
    pages: str = "{project}, instead of the {of}"
    not_proved_line: str = "{name} is not proved: try it in copy paper first, and read the proof."
    closed_alt: str = "The {name} closed on the box, seen from above, with its hole: {margin}."
    make: str = "Cut it without the die"
    layers: str = "Its layers, lowest first"
    layer_columns: tuple[str, ...] = ("Layer", "Size", "Of")
    hole: str = "Its hole"
    with_guide: str = "Its own hole guide is used as the {of}'s is. Or find it in one of these ways."
    same_hole: str = "The triangle's hole stays where it is."
    other_hole: str = "Make the triangle's hole through this lid: it lies elsewhere than with the {of}."
    chord_alt: str = (
        "A circle, {radius} from its middle, and a compass set to {chord} that is stepped round it {count} times."
    )
    copied: str = "{name}, instead of the {of}"
    shopping: str = "instead of the {of}: {name}"
    card_row: str = "Instead"
    card_one: str = "{name} {size}"
    card_more: str = "{count} more in the booklet"
    card_one_not_proved: str = "{name} {size}, not proved"
    others_title: str = "Other shapes: {name}"
    others_intro: str = (
        "Each formula was tried as it comes, with its usual lobes and depth: the smallest size on your ruler that "
        "covers with the margin, and the hole on the diagonal that opens most. Each was proved on the box."
    )
    others_for: str = "Instead of the {of}"
    others_columns: tuple[str, ...] = ("Shape", "Size", "Hole from corner", "Closed", "Opens", "To spare", "Proof")
    others_none: str = "These cannot be had in a size that covers and leaves a place for the hole: {shapes}."
    others_written: str = "These are in the file now, under [alternatives]:"
    others_paste: str = "To paste into the file, or let --write put them there:"
    # How a shape is made by hand, by its formula's name; sizes as they stand on a ruler.
    sizes_alike: str = "Each layer is made alike, at its own size."
    making: Mapping[str, tuple[str, ...]] = table(
        {
            "disc": (
                "Set a compass to {radius}, half of {across}, and draw the circle. Cut along it with scissors, turning "
                "the card and not the hand.",
                "Or set a circle cutter to {radius} from its point. A scrap of card under the point keeps the middle "
                "whole.",
            ),
            "square": (
                "Draw a square with sides of {across}. It is true when both ways from corner to corner are alike, "
                "{diagonal}.",
                "Cut it with scissors, or with a knife along a metal rule.",
            ),
            "rounded square": (
                "Draw a square with sides of {across}. It is true when both ways from corner to corner are alike, "
                "{diagonal}.",
                "Set a compass to {corner}. Put its point {corner} in from both sides of each corner, and draw the "
                "round.",
                "Cut along the rounds and the sides between them with scissors, or use a corner punch of the same "
                "radius.",
            ),
            "regular polygon": (
                "Set a compass to {radius}, half of {across}, and draw a circle.",
                "Set the compass to {chord}. Begin anywhere on the circle and step round it: {count} steps.{gap}",
                "Join the marks with a rule, and cut along the lines.",
            ),
        }
    )
    closes: str = " The last one comes back to the first mark."
    gap_short: str = " The last one ends {gap} short of the first mark: share that out."
    gap_past: str = " The last one ends {gap} past the first mark: share that out."
    template: tuple[str, ...] = (
        "Print its template at full size, or trace it through thin paper. Cut round it with scissors, turning the card "
        "and not the hand.",
    )
    owned: tuple[str, ...] = ("A punch or a die cuts it at the sizes you own: {sizes}.",)
