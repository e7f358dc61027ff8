"""English for the booklet and the table card: what stands on them beside the steps, the sizes and the proof."""

from __future__ import annotations

from collections.abc import Mapping

BY = "Made by {maker}"
REVISION = "Revision {revision}."
SUMMARY_BOX = "{piece}: {length} by {width}, {height} tall."
SUMMARY_LID = "With a lid, {across} across, that turns on {fastener}."
SUMMARY_SHAPE = "Its shape is {name}."
SUMMARY_SHAPE_FROM = "Its shape is {name}, from: {source}."
WITHOUT_DIE = "Without the die, cut round the templates, which are printed at full size."
FASTENERS: Mapping[str, str] = {"brad": "a brad", "eyelet": "an eyelet", "snap": "a two-part snap"}
READING = (
    "Every folded drawing is seen from the same place: from the front, a little to one side, looking down. The front "
    "is the side near you. Layers are drawn fatter than they are.",
    "Sizes come first in the unit the piece was made for, the other unit beside them. Pick one and stay with it.",
)
SCALE = "The pieces, all drawn at {scale} of their size."
PIECES_ALT = "The pieces at {scale} of their size. {pieces}"
PIECE_ALT = "{name}: {size}, {other}."
COPIES = "{name}, {count} times"
FROM_WASTE = "the waste of {piece}"
HOLE = "Where the hole goes"
WITH_GUIDE = "With the printed guide"
WITHOUT_PRINTER = "Without a printer"
BY_SIGHT = "By what you can see on the lid"
WORTH = "{title}. Measured: {measured}. Limit: {limit}. {why}"
LINK_WORDS = "Point a camera here, or type the address:"
MADE_WITH = "Measured and drawn with Foldproof {program}."
COPY_PAPER = "Try the first one in copy paper."

# What can be seen, and one thing to do; by what the project has.
TROUBLES: Mapping[str, tuple[tuple[str, str], ...]] = {
    "always": (
        ("A fold cracks", "Score the next one twice, lightly. Let most folds run along the grain."),
        ("A wall leans out", "Fold it in past upright against a rule, and let it go."),
        ("A corner gapes", "Hold it with a clip until the glue is dry."),
    ),
    "inner walls": (("An inner wall is too long", "Trim a sliver from its loose edge, not from its ends."),),
    "lift-off lid": (("The lid sticks", "Press the corners of the tray in a little."),),
    "turning lid": (
        ("The lid scrapes", "Press the corner triangle down until it is level with the rim."),
        ("A corner shows under the lid", "The hole is off. Measure it again from the corner of the box."),
    ),
    "brad": (("The lid flops", "Close the legs of the brad, push it home, and open them flat again."),),
    "eyelet": (("The lid flops", "The eyelet is loose. Set it once more, gently, with the strip of card left out."),),
    "snap": (("The lid does not turn", "The card is thick for the snap. Take one layer less through it."),),
}

# --- The table card -----------------------------------------------------------------------------------------

CARD = "table card"
CARD_SCORE = "Score at"
CARD_TURN = "{lengths}, quarter turn, then {turned}"
CARD_SAME = "{lengths}, quarter turn, same {count} again"
CARD_TABS = "Tabs"
CARD_TABS_LONG = "{size} long"
CARD_LAYERS = "Lid layers"
CARD_ACROSS = "{sizes} across"
CARD_STRIP = "Strip"
CARD_HOLE = "Hole"
CARD_HOLE_WAY = "{along} in from the box corner, halfway between its sides"
CARD_OUTSIDE, CARD_INSIDE = "Outside", "Inside"
CARD_FINISHED = "Finished"
CARD_ALT = "{title}, done."
CARD_FLAT_ALT = "{title}, flat: what is scored, glued and cut away."
CARD_LID_ALT = "The lid closed on the box."
# Three stand on the card, the worst first.
CARD_CAUTIONS: Mapping[str, str] = {
    "hot glue": "Hot glue: low heat, fingers off.",
    "knife": "Blade: metal rule, hand behind.",
    "awl": "Awl: cork beneath, hand aside.",
    "small parts": "Small parts: keep the tin shut.",
    "scissors": "Scissors: closed when handed on.",
    "always": "Children: an adult cuts.",
}
