"""English: cut list, shopping list and papers for the sides."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class TableWords:
    """Cut list, shopping list and papers for the sides."""

    cut_list_columns: tuple[str, ...] = (
        "part",
        "piece",
        "shape",
        "count",
        "width",
        "height",
        "width, other unit",
        "height, other unit",
        "width mm",
        "height mm",
        "cardstock",
        "sheet",
        "score from the left edge",
        "score after a quarter turn",
        "cut from the offcut of",
        "instead of",
        "verdict",
    )
    rectangle: str = "rectangle"
    shopping_columns: tuple[str, ...] = ("what", "how many", "unit", "size", "for", "note", "verdict")
    sheet_unit: str = "sheet"
    sheet_size: str = "{name} ({width} x {height})"
    exact: str = "no fewer will do"
    at_most: str = "at most {sheets}: the pieces were laid out; {least} may do"
    by_outlines: str = (
        "laid out by their outlines, the smaller ones in the offcuts of the larger; by squares it takes more"
    )
    as_cardstock: str = "its sheet is taken to be as large as the cardstock's"
    too_large: str = "{pieces}: no sheet of this size holds it; take a larger one"
    laid_upright: str = "laid out unturned, so that the print stands upright"
    per_sheet: str = "{pieces} ({per_sheet} to a sheet)"
    pieces: str = "{count} x {size}"
    piece_unit: str = "piece"
    foam: str = "foam, {thick} thick"
    foam_under: str = "under {pieces}"
    papers_title: str = "Papers for the sides"
    papers_intro: str = "Cut these from {name}. They leave {border} ({other}) of card along each edge."
    papers_clear: str = "Nothing goes on the tabs, the rim or the corner triangle."
    papers_upright: str = (
        "The print stands upright: do not turn the papers when you cut them. The height goes along the print."
    )
    papers_columns: tuple[str, ...] = ("For", "How many", "Width", "Height", "Also")
    papers_like: str = "{like}, {margin} smaller all round"
    papers_sides: Mapping[str, str] = table(
        {
            "front and back": "front and back walls",
            "left and right": "left and right walls",
            "base": "base, inside",
            "lid": "top",
        }
    )
    papers_of_part: str = "{part}: {side}"
    papers_nothing_left: str = "{part}: {side}: no paper, nothing is left inside the border."
    papers_lid_covers: str = "{part}: {side}: no paper, the lid slides over them."
    papers_below_lid: str = "{part}: the papers of the walls end below the lid, which comes down {size}."
    papers_hangs_over: str = (
        "{part}: the papers of the walls end {size} below the rim, where the edge of the lid swings by."
    )
    papers_thick: str = "{part}: the paper inside the base is smaller than the base by the walls' inner layers."
    fastener_sizes: Mapping[str, str] = table(
        {
            "brad": "head {head}, legs {legs}",
            "eyelet": "for a hole of {hole}: flange {head}, barrel {barrel}",
            "snap": "cap {head}, socket {back}, for card from {grip_least} to {grip_most} thick",
        }
    )
    for_part: str = "the {part}"
