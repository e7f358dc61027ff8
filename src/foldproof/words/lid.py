"""English: what the paper of a turning lid prints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class LidWords:
    """What the paper of a turning lid prints."""

    # --- The hole guide -----------------------------------------------------------------------------------------
    guide: str = "hole guide"
    guide_way: str = "With this page"
    guide_join: str = "Join the sheets on their crosses."
    guide_steps: tuple[str, ...] = (
        "Cut the guide out along its heavy outline.",
        "Lay the lid face down. Lay the guide on its back, this side up, edge on edge.",
        "Prick through the middle of the star. Take the guide off.",
        "Cut the star, three short slits, and try the turn on a needle. Mind the knife: other hand behind the blade.",
        "Then make the hole, {hole} wide, for the {fastener}.",
    )
    guide_inside: str = "this side up, on the back of the lid"
    guide_swapped: str = "You see the lid from its back: left and right are swapped."
    front: str = "front"
    corner: str = "{place} corner"
    hand_way: str = "Without a printer"
    hand_steps: tuple[str, ...] = (
        "Lay the lid face down. Stand the box on it, upside down, just where it goes. Draw round its {place} corner.",
        "From that corner, measure in {along} ({along_other}) along a line that halves the corner.",
        "Or measure {first} in from one side and {second} from the other: {first_side} and {second_side}.",
        "Or measure {first} in from both sides of the corner.",
        "Measure {first} ({first_other}) in {first_side} and {second} ({second_other}) {second_side}.",
    )
    hand_sides: tuple[str, ...] = ("from the {place} side", "{size} {side}")
    spare: str = "The hole may be {size} off ({other}), whichever way, before a limit is passed."
    spare_none: str = "Work closely: the hole may be less than {size} off before a limit is passed."
    legend_hidden: str = "box beneath"
    # --- The hole by what can be seen on the lid, face down ------------------------------------------------------
    sight_way: str = "By what you can see on the lid"
    sight_face_down: str = "Lay the lid face down."
    sight_anchor: str = "Lay the lid face down, with {spot} towards you."
    # By the way of measuring; "/same" where both lengths are one, "/any" where the lid may lie any way round.
    sight: Mapping[str, str] = table(
        {
            "sides": "Measure {first} in from one side and {second} in from the next one clockwise.",
            "sides/same": "Measure {first} in from two sides that meet.",
            "edge": "Measure {first} in from the edge, straight towards the middle. Begin where you like.",
            "mark": "From {spot}, measure {first} straight towards the middle.",
            "line": "From {spot}, measure {first} straight towards {other}.",
            "arcs": "Draw two arcs: {first} round {spot}, {second} round {other}. "
            "The hole is where they cross nearest the middle.",
            "arcs/any": "Draw two arcs: {first} round {spot}, {second} round the next one clockwise. "
            "The hole is where they cross nearest the middle.",
        }
    )
    sight_spot: str = "the {word} at {hour} o'clock"
    sight_spot_any: str = "any {word}"
    sight_spot_alone: str = "the {word}"
    # What a mark is called by its own name, where that is not plain enough.
    sight_words: Mapping[str, str] = table({"middle of side": "middle of a side", "top of lobe": "top of the lobe"})
    sight_title: str = "Find the hole by the lid's own shape"
    sight_check: str = "All that was measured begins at the lid's edge, and the prick is where the drawing has it."
    sight_if_not: str = "If it is not, turn the lid as it is drawn, face down, and measure again."
    sight_prick: str = "Prick the lid there."
    # --- The pieces ---------------------------------------------------------------------------------------------
    pieces_kind: str = "cut list"
    cut_layer: str = "Cut 1 {shape}, {size}, {card}."
    cut_strip: str = "Cut 1 strip, {width} x {height}."
    triangle: str = "Corner triangle"
    cap: str = "Top triangle"
    disc: str = "Disc round the hole"
    cut_disc: str = "Cut 1 disc, {size}, of the cardstock."
    disc_glued: str = "Glue it on the back of the lowest layer, its middle on the hole."
    layer: str = "Layer {number}"
    lowest: str = "lowest"
    highest: str = "highest"
    triangle_strip: str = "triangle strip"
    triangle_letter: str = "T"
    cap_strip: str = "second strip"
    cap_letter: str = "S"
    score_diagonals: str = "Score from the middle of one long side to both far corners."
    fold_back: str = "Fold both ends back along the scores. They are the glue flaps."
    cap_cut: str = "Draw the same two lines. Cut just inside them, and just inside the long side between them."
    three_to_one: str = (
        "A strip three times as long as wide, folded from its middle and trimmed to the triangle, gives the "
        "same triangle."
    )
    from_waste: str = "Cut it from the waste of {piece}: the score plan shows where."
    offcut_sheet: str = "From the offcut of {piece}. {project}"
    offcut_kind: str = "sheet layout"
    offcut_intro: str = (
        "The smaller pieces are cut from what the larger ones leave. Lay the templates so, largest first, with 1/8 in "
        "(3 mm) of card or more between any two."
    )
    offcut_place: str = "{piece}: its outline begins {left} from the left edge and {low} from the near edge."
    offcut_turned: str = "It is turned {angle:g} degrees to the left."
    offcut_alt: str = "{stock}: pieces on their sheet. {places} Page {page} of {pages}."
    from_offcut: str = "Cut it from the offcut of {piece}."
    through: str = "The {fastener} goes through: one hole, {size}."
    hidden_under: str = "The {fastener} is hidden under it: no hole."
    fixed: Mapping[str, str] = table(
        {"wet glue": "Glue it on.", "hot glue": "Fix it with hot glue.", "foam": "Fix it with foam, {foam} thick."}
    )
    hanging: str = "Shape its edge down by {size}."
    lifted: str = "Shape its edge up by {size}."
    turned: str = "Turn it by {angle:g} degrees against the lid."
    greeting: str = "It carries the greeting."
    # --- Pictures of the lid ------------------------------------------------------------------------------------
    to_spare: str = "{size} to spare all round"
    too_small: str = "{size} too small"
    with_mm: str = "{size} ({mm:.1f} mm)"
    free: str = "{percent:.0f} % free"
    degrees: str = "{angle}°"
    opened: str = "Turned {angle:g}°"
    percent: str = "{percent:.0f} % of the opening is free"
    turn_axis: str = "turn of the lid, in degrees"
    share_axis: str = "of the opening is free"
    anticlockwise: str = "to the left"
    clockwise: str = "to the right"
    best: str = "{percent:.0f} % at {angle:.0f}°"
    section: Mapping[str, str] = table(
        {
            "head": "head of the brad",
            "eyelet": "flange of the eyelet",
            "snap": "cap of the snap",
            "disc": "disc round the hole",
            "layer": "layer {number}",
            "over": "layer {number}, over the head",
            "cap": "top triangle, level with the rim",
            "triangle": "corner triangle",
            "legs": "legs, opened along the long edge",
            "flare": "back of the eyelet, set",
            "socket": "socket of the snap",
            "wall": "wall",
            "flap": "flap, glued to the wall",
            "between": "foam or hot glue",
        }
    )
    from_below: str = "from below"
    long_edge: str = "long edge"
    greeting_here: str = "greeting"
    not_to_scale: str = "Thicknesses are not to scale."
    # --- Pictures in words --------------------------------------------------------------------------------------
    alt_guide: str = (
        "{title}: the hole guide in true size, seen from the back of the lid, sheet {tile}, page {page} of {pages}."
    )
    alt_hand: str = "{title}: the hole without a printer, page {page} of {pages}."
    alt_pieces: str = "{title}: {pieces} Page {page} of {pages}."
    alt_closed: str = "The closed lid from above: {margin}. The hole is near the {place} corner."
    alt_opened: str = "The lid turned by {angle:.0f} degrees, from above: {percent:.0f} % of the opening is free."
    alt_curve: str = "How much of the opening is free at each turn: best {left} to the left, best {right} to the right."
    alt_section: str = "Cut through wall, both triangles, layers and fastener. Thicknesses are not to scale."
    alt_sight: str = "The lid face down, with what is measured from its own marks."
    alt_finished: str = "{name}: the lid closed, and turned open by {angle:.0f} degrees."
