"""English for what the checks find, by their codes.

Fields: ``{measured}`` and ``{limit}`` in both units, ``{short}`` the size in the maker's unit alone, ``{count}`` and
``{counted}``, ``{subject}``, ``{subjects}``, ``{piece}``, and every value of the finding by its name.
"""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.words.records import Counted, FindingWording, Said

THINGS = Counted(none="none", one="one", many="{count}")
PAIRS = Counted(none="none", one="one pair of parts", many="{count} pairs of parts")
PLACES = Counted(none="none", one="one place", many="{count} places")
ORDERS = Counted(none="none", one="one order", many="{count} orders")
SCORES = Counted(none="none", one="one score line", many="{count} score lines")

JOINS_WHY = "Faces that are glued must lie flat on each other. A gap pulls the box out of shape."
ORDER_WHY = "{states} half-made stages were tried, going back from the end."


def told(
    title: Said,
    why: str | Said,
    measured: str | Said = "{measured}",
    limit: str | Said = "",
    counted: Counted = THINGS,
) -> FindingWording:
    """A wording whose parts are the same in every state unless they are given by state."""
    whys, measures, limits = (said if not isinstance(said, str) else {"": said} for said in (why, measured, limit))
    return FindingWording(title=title, why=whys, measured=measures, limit=limits, counted=counted)


FINDINGS: Mapping[str, FindingWording] = {
    "fits_sheet": told(
        {
            "holds": "The piece for {piece} fits the sheet",
            "holds/exactly": "The piece for {piece} takes up the sheet",
            "look": "The piece for {piece} only just fits the sheet",
            "fails": "The piece for {piece} is {short} too long for the sheet",
            "fails/both": "The piece for {piece} is too large for the sheet, by up to {short}",
        },
        {
            "": "The piece is {width_mm} by {height_mm}. The sheet is {sheet_width_mm} by {sheet_height_mm}.",
        },
        {"": "{measured} to spare", "holds/exactly": "nothing to spare", "fails": "{measured} too much"},
        "sheet {sheet_width_mm} by {sheet_height_mm}",
    ),
    "joins_close": told(
        {
            "holds": "Every join closes",
            "look": "One join is {short} off: {subject}",
            "fails": "One join does not close: {subject} miss by {short}",
        },
        JOINS_WHY,
        "{measured} off at most",
    ),
    "join_wrong_side": told(
        {
            "holds": "Every glued face meets the right side",
            "look": "Look which sides meet: {subjects}",
            "fails": "The wrong sides would meet: {subjects}",
        },
        "The side with the glue must face the part it holds to.",
        "{counted}",
        counted=PAIRS,
    ),
    "glue_outside": told(
        {
            "holds": "All the glue stays inside the parts it joins",
            "look": "Some glue comes close to an edge, between {subject}",
            "fails": "Some glue would miss by {short}, between {subject}",
        },
        "Glue past an edge does not hold, and it shows.",
        "{measured} past an edge",
    ),
    "contact_end": told(
        {
            "holds": "Nothing is in the way at the end",
            "look": "Look at what lies close: {subjects}",
            "fails": "At the end {subjects} run into each other",
            "fails/many": "At the end {counted} run into each other, first {subject}",
        },
        "Two parts cannot be in one place. The box would bulge or stay open.",
        "{counted}",
        counted=PAIRS,
    ),
    "fold_order": told(
        {
            "holds": "{piece} folds up, in {count} ways",
            "holds/one": "{piece} folds up, in just one way",
            "holds/at_least": "{piece} folds up, in {count} ways or more",
            "look": "{piece} folds up, but look at the order",
            "undecided": "No order was found yet for {piece}",
            "fails": "There is no order that folds and glues {piece}",
        },
        {
            "": f"The best order is given in the steps. {ORDER_WHY}",
            "undecided": f"The search stopped before it was done. {ORDER_WHY}",
            "fails": "Every way was tried, going back from the end. All of them get stuck.",
            "fails/reason": "Every way was tried, going back from the end. {reason}",
        },
        "{counted}",
        "at least one",
        ORDERS,
    ),
    "glue_slides": told(
        {
            "holds": "All glued faces meet straight on",
            "look": "Glue has to slide into place between {subjects}",
            "look/many": "Glue has to slide into place in {counted}, first between {subject}",
            "fails": "Glue would slide and smear in {counted}",
        },
        "Glue that slides can smear. Use a little, and wipe the edge at once.",
        "{counted}",
        counted=PLACES,
    ),
    "fold_in_clears": told(
        {
            "holds": "The inner walls stop above the base",
            "look": "One inner wall comes very close to the base",
            "fails": "One inner wall is {short} too deep",
        },
        "A wall that reaches the base bulges when you fold it in. Here it is {subject}.",
        {"": "{measured} above the base", "fails": "{measured} too deep"},
    ),
    "tabs_in_view": told(
        {
            "holds": "The inner walls hide the tabs",
            "look": "The lowest {short} of the tabs still shows inside",
            "fails": "Too much of the tabs shows inside: {short}",
        },
        {
            "": "What the inner walls leave open of the tabs stays in view inside.",
            "look": "That is fine if you like it. A deeper inner wall hides the tabs.",
        },
        "{measured} in view",
    ),
    "lid_room": told(
        {
            "holds": "The lid has room to go on",
            "look": "The lid goes on tightly",
            "fails": "The lid does not go on: it has {short} of room on a side",
            "fails/under": "The lid is too small by {short} on a side",
        },
        "A lid needs some air on every side. Card is never cut quite true.",
        {"": "{measured} on a side", "fails/under": "{measured} too small on a side"},
    ),
    "lid_loose": told(
        {
            "holds": "The lid is not loose",
            "look": "The lid is loose: {short} of room on a side",
            "fails": "The lid is far too loose: {short} of room on a side",
        },
        "A loose lid slips about and comes off when you lift the box by it.",
        "{measured} on a side",
    ),
    "lid_way": told(
        {
            "holds": "The lid comes down freely",
            "look": "Look where the lid comes close: {subject}",
            "fails": "The lid is held up on its way down: {subjects} touch",
            "fails/many": "The lid is held up on its way down, by {counted}",
        },
        {
            "": "A lid that catches bends the walls, or stays up.",
            "fails/many": "The first pair is {subject}.",
        },
        "{counted}",
        counted=PAIRS,
    ),
    "content_room": told(
        {
            "holds": "What goes in has room",
            "look": "What goes in fits closely: {short} of room",
            "fails": "What goes in does not fit: {short} is missing",
        },
        "It should go in and out without bending the walls. Every layer of card is counted.",
        {"": "{measured} of room", "fails": "{measured} missing"},
    ),
    "content_corner": told(
        {
            "holds": "What goes in has room beside the corner triangle",
            "holds/close": "What goes in just slips past the corner triangle",
            "holds/under": "What goes in lies below the corner triangle",
            "look": "What goes in has to be tipped in, under the corner triangle",
            "fails": "What goes in runs into the corner triangle: {short}",
        },
        "The triangle takes one corner of the box. Its flaps end {flaps_mm} above the base.",
        {
            "": "{measured} of room",
            "holds/close": "{measured} under its edge",
            "look": "{measured} under it",
            "fails": "{measured} into it",
        },
        "beside the triangle, or below its flaps",
    ),
    "glue_area": told(
        {
            "holds": "Every glue area is large enough",
            "look": "One glue area is small, between {subject}",
            "fails": "One glue area is too small to hold, between {subject}",
        },
        "Small areas let go first. Press them well and give them time.",
    ),
    "glue_width": told(
        {
            "holds": "Every glue area is wide enough to press",
            "look": "One glue area is narrow, between {subject}",
            "fails": "One glue area is too narrow to press, between {subject}",
        },
        "A narrow strip is hard to press with a fingertip.",
        "{measured} wide",
    ),
    "fold_takes_up": told(
        {
            "holds": "Every fold reaches round the layers inside it",
            "look": "One fold has to reach round {short} of card: {subject}",
            "fails": "One fold cannot reach round {short} of card: {subject}",
        },
        "Layers take up room. A fold that must reach too far pulls the wall out of line.",
        "{measured} of card",
    ),
    "stack_height": told(
        {
            "holds": "No place has too many layers",
            "look": "Card lies {short} thick at one place",
            "fails": "Card lies too thick at one place: {short}",
        },
        "{layers} layers lie together there. Thick places are stiff and stand out.",
        "{measured} thick",
    ),
    "thickness_estimated": told(
        {
            "holds": "The card's thickness is measured",
            "look": "The card's thickness is only an estimate",
            "fails": "The card's thickness is not known",
        },
        {
            "": "The box was tried in the thick end of this range.",
            "look": "Measure ten sheets together and divide by ten. The box was tried in the thick end.",
        },
        "from {low_mm} to {high_mm}",
        {"": "best measured"},
    ),
    "tab_wedge": told(
        {
            "holds": "The tabs are slanted enough to slip in",
            "look": "The ends of the tabs are hardly slanted",
            "fails": "The ends of the tabs would catch",
        },
        "A tab that is cut straight catches in the corner. A slanted one slips in.",
        "{measured} of slant",
    ),
    "mark_error": told(
        {
            "holds": "Every mark is near its true place",
            "look": "One mark is {short} off its true place, on {piece}",
            "fails": "One mark is too far off its true place, on {piece}",
        },
        "Marks go on the nearest line of your ruler or board. Every part is tried as marked.",
        "{measured} off",
    ),
    "readings_differ": told(
        {
            "holds": "Both ways to read the score list agree",
            "look": "The sheet is off its size, so the score lines of {piece} depend on your edge",
            "fails": "The two ways to read the score list do not agree, on {piece}",
        },
        {
            "": "You can measure from one edge, or turn the sheet and measure from both.",
            "look": "Measure every score line from the same edge. Only the last part will change.",
            "look/trim": "Trim {trim_first_mm} off the far edge first. Then both ways agree.",
            "look/each_edge": "Measure from each edge in turn. The sheet is too short for one edge.",
        },
        "{measured} apart",
    ),
    "grain": told(
        {
            "holds": "The card is light enough to fold either way",
            "holds/none": "No score line goes against the grain",
            "look": "Against the grain in heavy card: {counted}",
            "look/unknown": "Up to {counted} may go against the grain in heavy card",
            "fails": "Too many folds go against the grain: {counted}",
        },
        "Heavy card can crack on the outside of such a fold. Score it well and fold slowly.",
        "{counted}",
        {"": "no limit in light card", "look": "none in card from {heavy_gsm} gsm", "fails": "none allowed"},
        SCORES,
    ),
    "white_shows": told(
        {
            "holds": "No plain back shows",
            "holds/some": "Hardly any plain back shows",
            "holds/same": "Both sides of the card look the same",
            "look": "Some of the plain back shows: {short}",
            "fails": "Too much of the plain back shows: {short}",
        },
        {
            "": "Card that is coloured on one side has a plain back.",
            "look": "The back shows on {subjects}. Line it, or use card coloured on both sides.",
        },
        {"": "{measured} in view", "holds/same": "none in view"},
    ),
}

REASONS: Mapping[str, str] = {
    "contact": "What most often stops it: {0} and {1} run into each other.",
    "wrong_side": "What most often stops it: {1} comes to {0} from the wrong side.",
    "pocket": "What most often stops it: {1} cannot slide in between {0} and {2}.",
    "hot_glue_slides": "What most often stops it: {1} slides on {0}, and this glue grips at once.",
    "finger_reach": "What most often stops it: no finger can press {1} to {0}.",
}
