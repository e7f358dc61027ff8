"""The limits a design is judged by. Every one is a setting of the project; reasons stand beside them."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.folding.limits import a_limit


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckLimits:
    """Limits of the checks: a measure past ``_look`` is worth a look, past ``_fail`` is not proved."""

    # 1/32 and 1/16 in: half a ruler mark is felt, a whole one is seen. Common practice, no source.
    closure_look_mm: float = a_limit(0.8, "mm", "a join that misses by more is worth a look", 0.05, 5.0)
    closure_fail_mm: float = a_limit(1.6, "mm", "a join that misses by more does not close", 0.1, 10.0)
    # A scored fold gives about its own thickness; common practice, no source.
    takeup_look_mm: float = a_limit(0.8, "mm", "layers a fold has to reach round", 0.05, 5.0)
    takeup_fail_mm: float = a_limit(1.6, "mm", "layers a fold cannot reach round", 0.1, 10.0)
    stack_look_mm: float = a_limit(1.3, "mm", "card on card at one place", 0.2, 10.0)
    glue_look_mm2: float = a_limit(150.0, "mm2", "a glue area smaller is worth a look", 1.0, 5000.0)
    glue_fail_mm2: float = a_limit(40.0, "mm2", "a glue area smaller does not hold", 0.0, 5000.0)
    glue_width_look_mm: float = a_limit(6.0, "mm", "a glue area narrower is worth a look", 0.5, 50.0)
    clear_base_look_mm: float = a_limit(0.8, "mm", "least room of inner walls above the base", 0.0, 10.0)
    wedge_look_mm: float = a_limit(1.5, "mm", "least slant at the wide end of a tab", 0.0, 10.0)
    heavy_gsm: float = a_limit(200.0, "g/m2", "card from here on may crack across the grain", 80.0, 600.0)
    white_look_mm2: float = a_limit(100.0, "mm2", "white back in view inside", 0.0, 100000.0)
    lid_loose_mm: float = a_limit(4.0, "mm", "a lid with more room than this is loose", 0.5, 20.0)
    lid_tight_mm: float = a_limit(0.2, "mm", "a lid with less room than this does not go on", 0.0, 5.0)
    lid_snug_mm: float = a_limit(0.6, "mm", "a lid with less room than this goes on tightly", 0.0, 5.0)
    # Defaults of a turning lid; common practice, no source.
    cover_fail_mm: float = a_limit(1.5875, "mm", "a lid with less margin does not cover", 0.0, 20.0)
    cover_look_mm: float = a_limit(3.175, "mm", "a lid with less margin is on the thin side", 0.0, 20.0)
    # A sixth of the least margin; near the best margin a turn gets steeply longer. Common practice, no source.
    cover_give_mm: float = a_limit(0.25, "mm", "margin that the best hole may lose for a smaller turn", 0.0, 10.0)
    hole_off_mm: float = a_limit(1.5875, "mm", "how far off a hole made by hand may be", 0.0, 10.0)
    turn_off_deg: float = a_limit(5.0, "deg", "how far a closed lid may be turned", 0.0, 45.0)
    opens_look_percent: float = a_limit(75.0, "%", "a lid should uncover this much of the opening", 0.0, 100.0)
    opens_fail_percent: float = a_limit(50.0, "%", "a lid that uncovers less does not open", 0.0, 100.0)
    hole_edge_mm: float = a_limit(6.35, "mm", "from the middle of the hole to any edge of card", 1.0, 30.0)
    leg_opening_mm: float = a_limit(4.0, "mm", "leg needed below the card to open it", 0.5, 20.0)
    # A barrel rolls back evenly when so much of it stands out before it is set; values from memory.
    eyelet_out_least_mm: float = a_limit(1.5, "mm", "barrel of an eyelet needed below the card to set it", 0.5, 10.0)
    eyelet_out_most_mm: float = a_limit(4.0, "mm", "more barrel below the card splits or stays loose", 1.0, 20.0)
    disc_look_mm: float = a_limit(1.5875, "mm", "lid beside the disc that reinforces its hole", 0.0, 20.0)
    tipping_look_mm: float = a_limit(5.0, "mm", "the weight should stay this far inside the base", 0.0, 100.0)
    # Half a mark of a ruler: the triangle's long edge gives so much. Common practice, no source.
    corner_look_mm: float = a_limit(0.8, "mm", "what goes in may reach so far under the corner triangle", 0.0, 10.0)
    mark_error_look_mm: float = a_limit(0.8, "mm", "a mark farther off its place is worth a look", 0.05, 5.0)
