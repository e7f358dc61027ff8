"""What the folding engine takes for granted, each a setting with its unit and reason."""

from __future__ import annotations

from dataclasses import dataclass, field


def a_limit(default: float, unit: str, help_text: str, least: float, most: float) -> float:
    """A setting: default, unit, what it is, and the range it may be set in."""
    facts = {"unit": unit, "help": help_text, "least": least, "most": most}
    value: float = field(default=default, metadata=facts)
    return value


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldingLimits:
    """Figures of the folding engine. All are settings; the reasons stand beside them."""

    # Plates may dip into each other this far: float noise and bevels, not card.
    contact_mm: float = a_limit(0.02, "mm", "how far two layers may dip into each other", 0.001, 0.2)
    # Under the whole thickness, so that layers in a stack stay apart.
    plate_share: float = a_limit(0.9, "", "share of the thickness that counts as solid", 0.5, 0.99)
    even_step_deg: float = a_limit(5.0, "deg", "how often a fold is looked at on its way", 1.0, 10.0)
    # An inner wall passes through a tab within the last 0.3 degrees.
    finest_step_deg: float = a_limit(0.05, "deg", "how often near both ends of a fold", 0.01, 0.5)
    finger_mm: float = a_limit(16.0, "mm", "width of a fingertip", 6.0, 25.0)  # common practice, no source
    finger_reach_mm: float = a_limit(60.0, "mm", "length of a straight finger", 20.0, 100.0)  # the same
    states_budget: float = a_limit(20000, "", "states the search of orders looks at at most", 100, 1000000)

    def contact_limit_mm(self, thickness_mm: float) -> float:
        """The contact limit, always under a quarter of the card."""
        return min(self.contact_mm, 0.249 * thickness_mm)
