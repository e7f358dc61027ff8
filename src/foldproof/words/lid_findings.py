"""English for what the checks find on a lid that turns in one corner.

Fields as in the other findings. How the lid lies (``{opened_deg}``, ``{angle_deg}``) is told whole: 'turned 171° to the
right', 'closed'.
"""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.words.findings import PAIRS, told
from foldproof.words.records import Counted, FindingWording

LAYERS = Counted(none="none", one="one layer", many="{count} layers")

TURNS_BEST = "At best it opens {left_share} {left_deg}, and {right_share} {right_deg}."
TURN_ROOM = "Keep {sweep_mm} free round the hole, and {beside_mm} between two boxes side by side."
FRONT = "The open lid lies farthest from the {front} side. Take that as the front, and put a greeting square to it."
OFF = "It was tried with the hole {hole_off_mm} off and the lid turned by {turn_off_deg}."
HOLE_MAY_BE_OFF = "The hole may be {tolerance_mm} off before a check fails."
HOLE_EXACT = "The hole has no room to be off."
HOLDS_CARD = "It goes through {held_mm} of card and foam. It holds {least_mm} to {most_mm}."
TEARS = "A narrow strip of card beside the hole tears when the lid turns."

# One of what a finding lists, by its code; ``{layer}`` and the others are those of its number.
LID_EACH: Mapping[str, str] = {
    "lid_catches": "{layer} hangs {depth_mm} below the rim and meets {on} when {angle_deg}.",
    "edge_presses": "The edge of {layer} stands {by_mm} into {on}, over room of {room_mm}.",
}

LID_FINDINGS: Mapping[str, FindingWording] = {
    "lid_covers": told(
        {
            "holds": "The lid covers the box, with {short} to spare all round",
            "look": "The lid covers the box, but with only {short} to spare",
            "fails": "The lid covers the box too closely: only {short} to spare",
            "fails/under": "{short} of the rim would show",
        },
        {
            "": "A lid moves a little on its hole. At the nearest place its edge is {distance_mm} from the rim.",
            "fails": "A lid moves a little on its hole. With so little to spare the rim soon shows.",
            "fails/under": "The closed lid is too small, or its hole is in the wrong place.",
        },
        {"": "{measured} to spare", "fails/under": "{measured} too small on a side"},
    ),
    "lid_comfort": told(
        {
            "holds": "The lid still covers when the hole is a little off",
            "look": "With the hole a little off, {short} of the rim may show",
            "fails": "With the hole a little off, too much of the rim shows: {short}",
        },
        {
            "": f"{OFF} {HOLE_MAY_BE_OFF}",
            "holds/exact": f"{OFF} But another check leaves the hole no room to be off.",
            "look/exact": f"{OFF} {HOLE_EXACT}",
            "fails/exact": f"{OFF} {HOLE_EXACT}",
        },
        {"": "{measured} to spare", "look": "{measured} in view", "fails": "{measured} in view"},
        "none in view",
    ),
    "lid_opens": told(
        {
            "holds": "The lid opens {measured} of the box, {opened_deg}",
            "look": "The lid opens only {measured} of the box, {opened_deg}",
            "fails": "The lid opens too little of the box: {measured}, {opened_deg}",
        },
        f"{TURNS_BEST} {TURN_ROOM} {FRONT}",
        "{measured} open",
    ),
    "hole_to_lid": told(
        {
            "holds": "The hole is far enough from the lid's edge",
            "look": "The hole is only just far enough from the lid's edge",
            "fails": "The hole is too near the lid's edge: {short} of card is left",
            "fails/under": "The hole would break through the lid's edge",
        },
        TEARS,
        {"": "{measured} of card", "fails/under": "{measured} past the edge"},
    ),
    "hole_to_triangle": told(
        {
            "holds": "The hole is far enough inside the corner triangle",
            "look": "The hole is only just far enough inside the corner triangle",
            "fails": "The hole is too near the triangle's edge: {short} of card is left",
            "fails/under": "The hole would break through the triangle's edge",
        },
        TEARS,
        {"": "{measured} of card", "fails/under": "{measured} past the edge"},
    ),
    "head_on_lid": told(
        {
            "holds": "The head lies wholly on the lid, in view",
            "holds/hidden": "The next layer hides the head",
            "look": "Look how the head lies on the lid",
            "fails": "The head stands {short} past the lid's edge",
            "fails/peeks": "{short} of the head shows beside the layer that should hide it",
        },
        "The head of what it turns on holds the lid down. It needs card under all of it.",
        {"": "{measured} to spare", "fails": "{measured} past the edge"},
        {"": "none past the edge"},
    ),
    "legs_long": told(
        {
            "holds": "The legs of the brad are long enough",
            "look": "The legs of the brad are only just long enough",
            "fails": "The legs of the brad are {short} too short",
        },
        "They go through the lid and the triangle. Then {opening_mm} must be left to open them.",
        {"": "{measured} to spare", "fails": "{measured} too short"},
        "legs {legs_mm} long",
    ),
    "legs_room": told(
        {
            "holds": "The legs of the brad have room to open",
            "look": "The legs of the brad only just have room to open",
            "fails": "The legs of the brad would strike the walls: {short} too long",
        },
        "Legs are opened along the long edge of the triangle. Legs that press on a wall bend it.",
        {"": "{measured} to spare", "fails": "{measured} too long"},
        "legs {legs_mm} long",
    ),
    "fastener_grips": told(
        {
            "holds": "The {kind} holds all the card it goes through",
            "look": "Look how the {kind} holds the card",
            "look/eyelet_thin": "The eyelet is {short} too long, and stays loose",
            "fails": "The {kind} does not hold the card it goes through",
            "fails/eyelet_thick": "The eyelet is {short} too short to be set",
            "fails/snap_thick": "The card is {short} too thick for the snap",
            "fails/snap_thin": "The card is {short} too thin for the snap to grip",
        },
        HOLDS_CARD,
        {
            "": "{measured} to spare",
            "look/eyelet_thin": "{measured} too long",
            "fails": "{measured} too much or too little",
        },
        "from {least_mm} to {most_mm} of card",
    ),
    "back_has_room": told(
        {
            "holds": "The back of the {kind} has room in its corner",
            "look": "The back of the {kind} only just has room in its corner",
            "look/edge": "The back of the {kind} stands {short} over the triangle's long edge",
            "fails": "The back of the {kind} would strike the walls: {short} too wide",
        },
        "It is {back_mm} wide, and lies under the triangle, beside the walls and the flaps.",
        {"": "{measured} to spare", "look/edge": "{measured} over the edge", "fails": "{measured} too wide"},
        "a back {back_mm} wide",
    ),
    "disc_hidden": told(
        {
            "holds": "The disc round the hole stays hidden under the lid",
            "look": "The disc round the hole comes within {short} of the lid's edge",
            "look/under": "The disc round the hole shows {short} beside the lid",
            "fails": "The disc round the hole shows: {short}",
        },
        "It is {disc_mm} wide, lies between lid and triangle, and turns with the lid.",
        {"": "{measured} of lid beside it", "look/under": "{measured} in view", "fails": "{measured} in view"},
    ),
    "legs_finger": told(
        {
            "holds": "A finger can get in to open the legs",
            "look": "A finger can only just get in to open the legs",
            "fails": "No finger can get in to open the legs",
        },
        "The legs are opened from inside. It was tried with the lid {opened_deg}.",
        "a gap of {measured}",
    ),
    "lid_catches": told(
        {
            "holds": "Nothing catches while the lid turns",
            "look": "Look at what comes close while the lid turns",
            "fails": "The lid catches while it turns",
            "fails/met": "The lid catches on {on_1} when {angle_1_deg}",
        },
        {
            "": "Whatever hangs below the rim can meet a wall or the triangle.",
            "fails/met": "{each} Keep flat: {every_subject}.",
        },
        "{counted}",
        counted=LAYERS,
    ),
    "edge_presses": told(
        {
            "holds": "Lifted edges have room under the layers over them",
            "look": "Look at the lifted edges: they come close to the layers over them",
            "fails": "A lifted edge presses on the layer over it",
            "fails/met": "The lifted edge of {layer_1} presses on {on_1}",
        },
        {
            "": "A layer that is pressed up does not lie flat, and its glue lets go.",
            "fails/met": "{each} Use thicker foam, or keep flat: {every_subject}.",
        },
        "{counted}",
        counted=LAYERS,
    ),
    "box_tips": told(
        {
            "holds": "The empty box stands, however the lid is turned",
            "look": "The empty box only just stands, with the lid {angle_deg}",
            "fails": "The empty box tips over, with the lid {angle_deg}",
        },
        "The lid weighs {mass_g} and the empty box {box_g}. The turned lid pulls to its side.",
        {"": "weight {measured} inside the base", "fails": "weight {measured} outside the base"},
    ),
    "triangle_in": told(
        {
            "holds": "The corner triangle goes into its corner",
            "look": "Look where the corner triangle comes close: {subjects}",
            "fails": "The corner triangle does not go in: {subjects} run into each other",
            "fails/many": "The corner triangle does not go in: {counted} run into each other",
        },
        {
            "": "It comes in from above, with both flaps folded down.",
            "fails/many": "The first pair is {subject}.",
        },
        "{counted}",
        counted=PAIRS,
    ),
    "size_owned": told(
        {
            "holds": "Every layer has a size that you own",
            "look": "Look: {counted} has a size that you do not own",
            "look/many": "Look: {counted} have sizes that you do not own",
            "fails": "Of the layers, {counted} has a size that you do not own",
            "fails/many": "Of the layers, {counted} have sizes that you do not own",
        },
        {
            "": "It is cut at {size_mm}. The nearest size you own is {nearest_mm}.",
            "holds": "So each can be cut with what is on your shelf.",
            "look/many": "The first is cut at {size_mm}. The nearest size you own is {nearest_mm}.",
            "fails/many": "The first is cut at {size_mm}. The nearest size you own is {nearest_mm}.",
        },
        "{counted}",
        counted=LAYERS,
    ),
    "triangle_flaps": told(
        {
            "holds": "The flaps of the triangle fit inside the walls",
            "look": "The flaps of the triangle only just fit inside the walls",
            "fails": "The flaps of the triangle are {short} too tall for the walls",
        },
        "Flaps that reach the base keep the triangle from lying level with the rim.",
        {"": "{measured} to spare", "fails": "{measured} too tall"},
        "as tall as the walls",
    ),
}
