"""English: the figures of a turning lid, in the order they are told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureWords:
    """The figures of a turning lid, in the order they are told."""

    figures: Mapping[str, str] = table(
        {
            "margin_mm": "Margin all round, closed",
            "distance_mm": "Nearest edge of the box to the lid's edge",
            "comfort_mm": "Margin left with the hole and the turn a little off",
            "hole_tolerance_mm": "How far off the hole may be",
            "best_left": "Opens to the left",
            "best_right": "Opens to the right",
            "front": "Front",
            "held_mm": "Card and foam held by what it turns on",
            "sweep_mm": "Room to keep free round the hole",
            "stack_mm": "Height of the lid",
            "area_mm2": "Area of the lid",
            "mass_g": "Mass of the lid, with glue, foam and what it turns on",
            "tipping_mm": "Weight of the empty box inside its base, at the worst turn",
        }
    )
    beside: str = "Room between two boxes side by side"
    behind: str = "Room between two boxes one behind the other"
    turn: str = "{share} % uncovered, {turn}"
    side: str = "the {side} side"
