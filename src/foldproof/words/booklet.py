"""English: what stands on booklet, post, steps and table card beside the steps, the sizes and the proof."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class BookletWords:
    """What stands on booklet, post, steps and table card beside the steps, the sizes and the proof."""

    by: str = "Made by {maker}"
    revision: str = "Revision {revision}."
    summary_box: str = "{piece}: {length} by {width}, {height} tall."
    summary_lid: str = "With a lid, {across} across, that turns on {fastener}."
    summary_shape: str = "Its shape is {name}."
    summary_shape_from: str = "Its shape is {name}, from: {source}."
    without_die: str = "Without the die, cut round the templates, which are printed at full size."
    fasteners: Mapping[str, str] = table({"brad": "a brad", "eyelet": "an eyelet", "snap": "a two-part snap"})
    reading: tuple[str, ...] = (
        "Every folded drawing is seen from the same place: from the front, a little to one side, looking down. The "
        "front is the side near you. Layers are drawn fatter than they are.",
        "Sizes come first in the unit the piece was made for, the other unit beside them. Pick one and stay with it.",
    )
    scale: str = "The pieces, all drawn at {scale} of their size."
    pieces_alt: str = "The pieces at {scale} of their size. {pieces}"
    piece_alt: str = "{name}: {size}, {other}."
    copies: str = "{name}, {count} times"
    from_waste: str = "the waste of {piece}"
    from_offcut: str = "{card}, the offcut of {piece}"
    hole: str = "Where the hole goes"
    with_guide: str = "With the printed guide"
    how_good: str = "How good this place is"
    as_it_lies: str = "The lid lies as it is drawn here, and every place for its hole was looked at."
    made_here: str = "As made here it has {spare} to spare, and opens {percent:.0f} % at most."
    without_printer: str = "Without a printer"
    by_sight: str = "By what you can see on the lid"
    worth: str = "{title}. Measured: {measured}. Limit: {limit}. {why}"
    link_words: str = "Point a camera here, or type the address:"
    made_with: str = "Measured and drawn with Foldproof {program}."
    copy_paper: str = "Try the first one in copy paper."
    # What can be seen, and one thing to do; by what the project has.
    troubles: Mapping[str, tuple[tuple[str, str], ...]] = table(
        {
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
            "eyelet": (
                ("The lid flops", "The eyelet is loose. Set it once more, gently, with the strip of card left out."),
            ),
            "snap": (("The lid does not turn", "The card is thick for the snap. Take one layer less through it."),),
        }
    )
    # --- The table card -----------------------------------------------------------------------------------------
    card: str = "table card"
    card_score: str = "Score at"
    card_turn: str = "{lengths}, quarter turn, then {turned}"
    card_same: str = "{lengths}, quarter turn, same {count} again"
    card_tabs: str = "Tabs"
    card_tabs_long: str = "{size} long"
    card_layers: str = "Lid layers"
    card_across: str = "{sizes} across"
    card_strip: str = "Strip"
    card_hole: str = "Hole"
    card_hole_way: str = "{along} in from the box corner, halfway between its sides"
    card_hole_sides: str = "{first} in from the {first_side} side of the box, {second} from the {second_side} side"
    card_outside: str = "Outside"
    card_inside: str = "Inside"
    card_finished: str = "Finished"
    card_alt: str = "{title}, done."
    card_flat_alt: str = "{title}, flat: what is scored, glued and cut away."
    card_lid_alt: str = "The lid closed on the box."
    # Three stand on the card, the worst first.
    card_cautions: Mapping[str, str] = table(
        {
            "hot glue": "Hot glue: low heat, fingers off.",
            "knife": "Blade: metal rule, hand behind.",
            "awl": "Awl: cork beneath, hand aside.",
            "small parts": "Small parts: keep the tin shut.",
            "scissors": "Scissors: closed when handed on.",
            "always": "Children: an adult cuts.",
        }
    )
    before: str = "Before you start"
    reading_title: str = "How to read the drawings"
    need: str = "What you need"
    and_these: str = "And these"
    cut_list: str = "Cut list"
    cut_columns: tuple[str, ...] = ("Piece", "Size", "Of")
    plan: str = "Score plan, {title}"
    scissors: str = "With the scissors"
    have: str = "What you have"
    sizes: str = "Sizes"
    size_columns: tuple[str, ...] = ("Size", "Length", "Width", "Height")
    lid_figures: str = "The lid in figures"
    lid_columns: tuple[str, ...] = ("What", "How much")
    proved: str = "What was proved"
    not_all_proved: str = "What was checked"
    holds: str = "What holds"
    whole_proof: str = "The whole proof, with every figure and limit, is in proof.txt."
    granted: str = "Taken for granted"
    off: str = "If something is off"
    off_columns: tuple[str, ...] = ("You see", "Do this")
    key_words: Mapping[str, str] = table(
        {
            "outline": "cut, or the edge of the card",
            "valley": "score, fold up",
            "mountain": "score, fold back",
            "guide": "goes straight to this place; pencil line",
            "hidden": "edge beneath something",
            "glue": "glue here",
            "waste": "waste: cut it away",
            "sides": "plain side, coloured side",
            "arrow": "this moves, and this way",
        }
    )
    key_title: str = "Key to the drawings."
    key_item: str = "{sign}: {words}."
    signs: Mapping[str, str] = table(
        {
            "outline": "Heavy line",
            "valley": "Dashes",
            "mountain": "Dash and two dots",
            "guide": "Thin dashes",
            "hidden": "Dotted line",
            "glue": "Dots",
            "waste": "Slanting lines",
            "sides": "White and tint",
            "arrow": "Heavy arrow",
        }
    )
    scale_words: Mapping[str, str] = table(
        {
            "2": "half",
            "3": "a third",
            "4": "a quarter",
            "5": "a fifth",
            "6": "a sixth",
            "7": "a seventh",
            "8": "an eighth",
            "10": "a tenth",
            "15": "a fifteenth",
            "20": "a twentieth",
            "40": "a fortieth",
        }
    )
    steps_title: str = "{name}: step by step"
    not_proved: str = "Not proved: try it in copy paper first, and read the proof."
    check: str = "Check: {check}"
    if_not: str = "If not: {if_not}"
    no_order: str = (
        "No order was found in which this can be folded and glued. Read the proof: it says what is in the way."
    )
    post_measures: str = "Measures"
    post_columns: tuple[str, ...] = ("Piece", "Size", "Of", "Score at", "Then turn a quarter, score at")
    post_numbered: str = "{number}. {title}"
