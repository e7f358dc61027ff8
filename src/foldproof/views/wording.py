"""Every word that the paper of a piece prints, in one place: plain names with ``{placeholders}``."""

from __future__ import annotations

# --- What parts of a piece are called -----------------------------------------------------------------------

PANEL_NAMES = {
    "base": "base",
    "wall": "{place} wall",
    "tab": "tab",
    "inner_wall": "inner wall",
    "triangle": "corner triangle",
    "flap": "flap",
    "cap": "top triangle",
    "layer": "layer {place}",
}
PIECE_NAMES = {"triangle": "corner triangle", "cap": "top triangle"}
GLUE_HERE = "glue here"
SIDE_UP = "inside up"  # what faces the maker on the board, when nothing better is known of the card

# --- Headers and notices ------------------------------------------------------------------------------------

TITLE = "{part}"
TITLE_WITH_PIECE = "{part}: {piece}"
SCORE_PLAN = "score plan"
TEMPLATE = "template"
PAGE_OF = "page {page} of {pages}"
NOT_PROVED = "Not proved: try it in copy paper first, and read the proof."
CLASS_VERSION = "Class version: no hot glue."

# --- Score plan: the piece to cut ---------------------------------------------------------------------------

CUT_ONE = "Cut one piece"
CUT_COUNT = "Cut {count} pieces"
WHOLE_SHEET_ONE = "Take one whole sheet"
WHOLE_SHEET_COUNT = "Take {count} whole sheets"
SQUARE = "{side} square"
OBLONG = "{width} x {height}"

# --- Score plan: on the board -------------------------------------------------------------------------------

ONE_SCORE = "Score one line"
SCORES = "Score {count} lines"
TURNED_SAME = "Turn, and score the same {count}"
TURNED_SAME_ONE = "Turn, and score the same line"
TURNED_OTHER = "Turn, and score {count} more"
TURNED_OTHER_ONE = "Turn, and score one more"
TURNED_FIRST = "Turn a quarter, and score {count}"
TURNED_FIRST_ONE = "Turn a quarter, and score one line"
LAY_ON_BOARD = "Lay the piece {side_up}, tight against the stop at the left and the top. Pencil a cross at bottom left."
LAY_WITHOUT_BOARD = (
    "Lay the piece {side_up}. Tick the sizes from its left edge, at the top and at the bottom. "
    "Score from tick to tick. Pencil a cross at bottom left."
)
TURN_ON_BOARD = "Turn the piece a quarter to the right. The cross goes from bottom left to top left."
QUARTER_TURN = "1/4 turn"

OVER = "{size} over"
UNDER = "{size} under"
HAIR_OVER = "a hair over"
HAIR_UNDER = "a hair under"
OVER_MEANS = "Over and under: the line is rounded to your ruler. It lies so far past its exact place, or short of it."
HAIR_MEANS = "A hair is less than {size}."
OFFSET = "For {size}: edge at {edge}, groove {stop}."
AS_IN_STEP_ONE = "Find these lines as in step 1."
NEEDS_RULER = "No groove fits {sizes}. Tick with a ruler at both ends, then score along the ruler."

# --- Score plan: the two ways of reading the list -----------------------------------------------------------

READ_TITLE = "Two ways to read the list"
READ_ACROSS = "Step 1"
READ_UP = "Step 2"
READ_ONE_EDGE = "All from one edge: {sizes}."
READ_EACH_EDGE = "From each edge in turn: {sizes}, then turn the piece end for end: {turned}."
READ_NO_TURN = "From each edge in turn is the same: no line is past the middle."
READ_SAME = (
    "On a piece cut true, both give the same lines. If it is off, only one edge is safe: the last strip takes it all."
)
READ_SHORT = "Your piece is {size} short of the list."
READ_LONG = "Your piece is {size} longer than the list."
READ_CHANGE_ONE = "All from one edge: the last strip becomes {real}, not {meant}."
READ_CHANGE_EACH = "From each edge: the {strip} becomes {real}, not {meant}."
STRIP_MIDDLE = "middle strip"
STRIP_NUMBER = "strip {number} of {count}"
READ_SAFE_ONE = "Safe: all from one edge."
READ_SAFE_EACH = "Safe: from each edge in turn."
READ_TRIM = "Or cut {size} off first: then both ways agree."

# --- Score plan: cutting away -------------------------------------------------------------------------------

CUT_AWAY = "Cut away the shaded parts"
CUT_AWAY_TURN = "Turn the piece back: the cross is at bottom left."
TRIM_TO_OUTLINE = "Nothing is cut away: the outline is the piece."
KEPT = "From the waste, cut the {words} ({letter}), {size}."
MEASURE_TEXTS = {
    "tab_length": "Keep each tab {size} long.",
    "tab_relief": "Slant both ends of each tab by {size}.",
    "tab_in": "Set each tab fold {size} in from the score line.",
    "inner_trim": "Trim {size} off each end of the inner walls.",
    "inner_slant": "Slant those ends {size} more towards the edge.",
}
MEASURE_OTHER = "{name}: {size}."
MEASURES_ROUNDED = "These sizes are rounded to the safe side."

# --- Legend -------------------------------------------------------------------------------------------------

LEGEND_CUT = "cut"
LEGEND_VALLEY = "score, fold up"
LEGEND_MOUNTAIN = "score, fold back"
LEGEND_WASTE = "waste"
LEGEND_GLUE = "glue here"
LEGEND_GROOVE = "groove to use"
LEGEND_TICK = "not on a groove"
LEGEND_CROSS = "pencil cross"

# --- Templates ----------------------------------------------------------------------------------------------

PRINT_TRUE = "Print at 100 %, true size. Check both rulers."
TILE = "sheet {tile}"
JOIN_TO = "join to {tile}"
RULER_MM = "100 mm"
RULER_IN = "4 in"

# --- Pictures in words --------------------------------------------------------------------------------------

ALT_CUT_PAGE = "{title}, true size, {size}: the lines to cut and to score."
ALT_SCORE_PLAN = "Score plan of {title}, {size}. Across: {across}. After a quarter turn: {up}. Page {page} of {pages}."
ALT_TEMPLATE = "{title}: template in true size, sheet {tile}, page {page} of {pages}."
NONE = "no lines"
LIST_JOIN = ", "
