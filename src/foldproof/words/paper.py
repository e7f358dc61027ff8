"""English: what score plans, templates and hole guides print, but for the lid's own words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperWords:
    """What score plans, templates and hole guides print, but for the lid's own words."""

    # --- What parts of a piece are called -----------------------------------------------------------------------
    panel_names: Mapping[str, str] = table(
        {
            "base": "base",
            "wall": "{place} wall",
            "tab": "tab",
            "inner_wall": "inner wall",
            "triangle": "corner triangle",
            "flap": "flap",
            "cap": "top triangle",
            "layer": "layer {place}",
            "paper": "paper",
        }
    )
    panel_kinds: Mapping[str, str] = table(
        {
            "base": "base",
            "wall": "wall",
            "tab": "tab",
            "inner_wall": "inner wall",
            "triangle": "triangle",
            "flap": "flap",
            "cap": "cap",
            "layer": "layer",
            "paper": "paper",
        }
    )
    piece_names: Mapping[str, str] = table(
        {
            "triangle": "corner triangle",
            "cap": "top triangle",
            "layer": "layer {number}",
            "paper_for_front_and_back_walls": "paper for front and back walls",
            "paper_for_left_and_right_walls": "paper for left and right walls",
            "paper_for_base_inside": "paper for base inside",
            "paper_for_top": "paper for top",
        }
    )
    glue_here: str = "glue here"
    side_up: str = "inside up"  # what faces the maker on the board, when nothing better is known of the card
    # --- Headers and notices ------------------------------------------------------------------------------------
    title: str = "{part}"
    title_with_piece: str = "{part}: {piece}"
    score_plan: str = "score plan"
    template: str = "template"
    page_of: str = "page {page} of {pages}"
    not_proved: str = "Not proved: try it in copy paper first, and read the proof."
    class_version: str = "Class version: no hot glue."
    # --- Score plan: the piece to cut ---------------------------------------------------------------------------
    cut_pieces: Mapping[str, str] = table({"one": "Cut one piece", "other": "Cut {count} pieces"})
    whole_sheets: Mapping[str, str] = table({"one": "Take one whole sheet", "other": "Take {count} whole sheets"})
    square: str = "{side} square"
    oblong: str = "{width} x {height}"
    # --- Score plan: on the board -------------------------------------------------------------------------------
    score_lines: Mapping[str, str] = table({"one": "Score one line", "other": "Score {count} lines"})
    turned_same_lines: Mapping[str, str] = table(
        {"one": "Turn, and score the same line", "other": "Turn, and score the same {count}"}
    )
    turned_other_lines: Mapping[str, str] = table(
        {"one": "Turn, and score one more", "other": "Turn, and score {count} more"}
    )
    turned_first_lines: Mapping[str, str] = table(
        {"one": "Turn a quarter, and score one line", "other": "Turn a quarter, and score {count}"}
    )
    lay_on_board: str = (
        "Lay the piece {side_up}, tight against the stop at the left and the top. Pencil a cross at bottom left."
    )
    lay_without_board: str = (
        "Lay the piece {side_up}. Tick the sizes from its left edge, at the top and at the bottom. Score "
        "from tick to tick. Pencil a cross at bottom left."
    )
    turn_on_board: str = "Turn the piece a quarter to the right. The cross goes from bottom left to top left."
    quarter_turn: str = "1/4 turn"
    over: str = "{size} over"
    under: str = "{size} under"
    hair_over: str = "a hair over"
    hair_under: str = "a hair under"
    over_means: str = (
        "Over and under: the line is rounded to your ruler. It lies so far past its exact place, or short of it."
    )
    hair_means: str = "A hair is less than {size}."
    offset: str = "For {size}: edge at {edge}, groove {stop}."
    as_in_step_one: str = "Find these lines as in step 1."
    needs_ruler: str = "No groove fits {sizes}. Tick with a ruler at both ends, then score along the ruler."
    # --- Score plan: the two ways of reading the list -----------------------------------------------------------
    read_title: str = "Two ways to read the list"
    read_across: str = "Step 1"
    read_up: str = "Step 2"
    read_one_edge: str = "All from one edge: {sizes}."
    read_each_edge: str = "From each edge in turn: {sizes}, then turn the piece end for end: {turned}."
    read_no_turn: str = "From each edge in turn is the same: no line is past the middle."
    read_same: str = (
        "On a piece cut true, both give the same lines. If it is off, only one edge is safe: the last strip "
        "takes it all."
    )
    read_short: str = "Your piece is {size} short of the list."
    read_long: str = "Your piece is {size} longer than the list."
    read_change_one: str = "All from one edge: the last strip becomes {real}, not {meant}."
    read_change_each: str = "From each edge: the {strip} becomes {real}, not {meant}."
    strip_middle: str = "middle strip"
    strip_number: str = "strip {number} of {count}"
    read_safe_one: str = "Safe: all from one edge."
    read_safe_each: str = "Safe: from each edge in turn."
    read_trim: str = "Or cut {size} off first: then both ways agree."
    # --- Score plan: cutting away -------------------------------------------------------------------------------
    cut_away: str = "Cut away the shaded parts"
    cut_away_turn: str = "Turn the piece back: the cross is at bottom left."
    trim_to_outline: str = "Nothing is cut away: the outline is the piece."
    kept: str = "From the waste, cut the {words} ({letter}), {size}."
    measure_texts: Mapping[str, str] = table(
        {
            "tab_length": "Keep each tab {size} long.",
            "tab_relief": "Slant both ends of each tab by {size}.",
            "tab_in": "Set each tab fold {size} in from the score line.",
            "inner_trim": "Trim {size} off each end of the inner walls.",
            "inner_slant": "Slant those ends {size} more towards the edge.",
        }
    )
    measure_other: str = "{name}: {size}."
    measures_rounded: str = "These sizes are rounded to the safe side."
    # --- Legend -------------------------------------------------------------------------------------------------
    legend: Mapping[str, str] = table(
        {
            "cut": "cut",
            "valley": "score, fold up",
            "mountain": "score, fold back",
            "waste": "waste",
            "glue": "glue here",
            "groove": "groove to use",
            "tick": "not on a groove",
            "cross": "pencil cross",
        }
    )
    # --- Templates ----------------------------------------------------------------------------------------------
    print_true: str = "Print at 100 %, true size. Check both rulers."
    tile: str = "sheet {tile}"
    join_to: str = "join to {tile}"
    ruler_mm: str = "100 mm"
    ruler_in: str = "4 in"
    # --- Pictures in words --------------------------------------------------------------------------------------
    alt_cut_page: str = "{title}, true size, {size}: the lines to cut and to score."
    alt_score_plan: str = (
        "Score plan of {title}, {size}. Across: {across}. After a quarter turn: {up}. Page {page} of {pages}."
    )
    alt_template: str = "{title}: template in true size, sheet {tile}, page {page} of {pages}."
    none: str = "no lines"
    list_join: str = ", "
    score_plan_title: str = "{name}: score plan"
    templates_title: str = "{name}: templates in true size"
    hole_guide_title: str = "{name}: hole guide"
