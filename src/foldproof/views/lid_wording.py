"""Every word that the paper of a turning lid prints, in one place: plain names with ``{placeholders}``."""

from __future__ import annotations

# --- The hole guide -----------------------------------------------------------------------------------------

GUIDE = "hole guide"
GUIDE_WAY = "With this page"
GUIDE_JOIN = "Join the sheets on their crosses."
GUIDE_STEPS = (
    "Cut the guide out along its heavy outline.",
    "Lay the lid face down. Lay the guide on its back, this side up, edge on edge.",
    "Prick through the middle of the star. Take the guide off.",
    "Cut the star, three short slits, and try the turn on a needle. Mind the knife: other hand behind the blade.",
    "Then make the hole, {hole} wide, for the {fastener}.",
)
GUIDE_INSIDE = "this side up, on the back of the lid"
GUIDE_SWAPPED = "You see the lid from its back: left and right are swapped."
FRONT = "front"
CORNER = "{place} corner"
HAND_WAY = "Without a printer"
HAND_STEPS = (
    "Lay the lid face down. Stand the box on it, upside down, just where it goes. Draw round its {place} corner.",
    "From that corner, measure in {along} ({along_other}) along a line that halves the corner.",
    "Or measure {first} in from one side and {second} from the other: {first_side} and {second_side}.",
    "Or measure {first} in from both sides of the corner.",
)
HAND_SIDES = ("from the {place} side", "{size} {side}")
SPARE = "The hole may be {size} off ({other}), whichever way, before a limit is passed."
SPARE_NONE = "Work closely: the hole may be less than {size} off before a limit is passed."
LEGEND_HIDDEN = "box beneath"

# --- The hole by what can be seen on the lid, face down ------------------------------------------------------

SIGHT_WAY = "By what you can see on the lid"
SIGHT_FACE_DOWN = "Lay the lid face down."
SIGHT_ANCHOR = "Lay the lid face down, with {spot} towards you."
# By the way of measuring; "/same" where both lengths are one, "/any" where the lid may lie any way round.
SIGHT = {
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
SIGHT_SPOT = "the {word} at {hour} o'clock"
SIGHT_SPOT_ANY = "any {word}"
SIGHT_SPOT_ALONE = "the {word}"
# What a mark is called by its own name, where that is not plain enough.
SIGHT_WORDS = {"middle of side": "middle of a side", "top of lobe": "top of the lobe"}
SIGHT_TITLE = "Find the hole by the lid's own shape"
SIGHT_CHECK = "All that was measured begins at the lid's edge, and the prick is where the drawing has it."
SIGHT_IF_NOT = "If it is not, turn the lid as it is drawn, face down, and measure again."
SIGHT_PRICK = "Prick the lid there."

# --- The pieces ---------------------------------------------------------------------------------------------

PIECES_KIND = "cut list"
CUT_LAYER = "Cut 1 {shape}, {size}, {card}."
CUT_STRIP = "Cut 1 strip, {width} x {height}."
TRIANGLE = "Corner triangle"
CAP = "Top triangle"
DISC = "Disc round the hole"
CUT_DISC = "Cut 1 disc, {size}, of the cardstock."
DISC_GLUED = "Glue it on the back of the lowest layer, its middle on the hole."
LAYER = "Layer {number}"
LOWEST, HIGHEST = "lowest", "highest"
TRIANGLE_STRIP, TRIANGLE_LETTER = "triangle strip", "T"
CAP_STRIP, CAP_LETTER = "second strip", "S"
SCORE_DIAGONALS = "Score from the middle of one long side to both far corners."
FOLD_BACK = "Fold both ends back along the scores. They are the glue flaps."
CAP_CUT = "Draw the same two lines. Cut just inside them, and just inside the long side between them."
THREE_TO_ONE = (
    "A strip three times as long as wide, folded from its middle and trimmed to the triangle, gives the same triangle."
)
FROM_WASTE = "Cut it from the waste of {piece}: the score plan shows where."
THROUGH = "The {fastener} goes through: one hole, {size}."
HIDDEN_UNDER = "The {fastener} is hidden under it: no hole."
FIXED = {"wet glue": "Glue it on.", "hot glue": "Fix it with hot glue.", "foam": "Fix it with foam, {foam} thick."}
HANGING, LIFTED = "Shape its edge down by {size}.", "Shape its edge up by {size}."
TURNED = "Turn it by {angle:g} degrees against the lid."
GREETING = "It carries the greeting."

# --- Pictures of the lid ------------------------------------------------------------------------------------

TO_SPARE = "{size} to spare all round"
TOO_SMALL = "{size} too small"
WITH_MM = "{size} ({mm:.1f} mm)"
FREE = "{percent:.0f} % free"
DEGREES = "{angle}°"
OPENED = "Turned {angle:g}°"
PERCENT = "{percent:.0f} % of the opening is free"
TURN_AXIS = "turn of the lid, in degrees"
SHARE_AXIS = "of the opening is free"
ANTICLOCKWISE, CLOCKWISE = "to the left", "to the right"
BEST = "{percent:.0f} % at {angle:.0f}°"
SECTION = {
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
FROM_BELOW, LONG_EDGE = "from below", "long edge"
GREETING_HERE = "greeting"
NOT_TO_SCALE = "Thicknesses are not to scale."

# --- Pictures in words --------------------------------------------------------------------------------------

ALT_GUIDE = "{title}: the hole guide in true size, seen from the back of the lid, sheet {tile}, page {page} of {pages}."
ALT_HAND = "{title}: the hole without a printer, page {page} of {pages}."
ALT_PIECES = "{title}: {pieces} Page {page} of {pages}."
ALT_CLOSED = "The closed lid from above: {margin}. The hole is near the {place} corner."
ALT_OPENED = "The lid turned by {angle:.0f} degrees, from above: {percent:.0f} % of the opening is free."
ALT_CURVE = "How much of the opening is free at each turn: best {left} to the left, best {right} to the right."
ALT_SECTION = "Cut through wall, both triangles, layers and fastener. Thicknesses are not to scale."
ALT_SIGHT = "The lid face down, with what is measured from its own marks."
ALT_FINISHED = "{name}: the lid closed, and turned open by {angle:.0f} degrees."
