"""English: the answers to values left open, and what is proved of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class FitWords:
    """The answers to values left open, and what is proved of them."""

    title: str = "Fit: {name}"
    goals: Mapping[str, str] = table(
        {
            "largest base": "The largest base on this sheet",
            "smallest piece": "The smallest piece for these sizes",
            "hold the content": "A base that holds the content, with its ease",
            "whole sheet": "Sizes that use the whole sheet",
            "best hole": "The best place for the hole: most to spare, then the least turn",
            "least turn": "The hole that opens the box with the least turn",
            "hole far from the edge": "The hole as far as possible from the lid's edge",
            "smallest lid": "The smallest lid of this shape that covers the box",
        }
    )
    part: str = "{part}: {goal}"
    works: str = "This works. The best answer stands first."
    thin: str = "The lid has less to spare than {margin}. The best answer stands first."
    # The hole is looked for all the same where the lid's own place is given.
    bare: str = "Lying closed like this, the lid is too small for the box. The best answer for its hole stands first."
    reasons: Mapping[str, str] = table(
        {
            "content_too_large": "Nothing on this sheet holds the content: {short} is missing. This is the nearest.",
            "no_hole": "The hole has no place here that meets every limit. These come nearest, by {short}.",
            "no_margin": "No place covers the box with its margin: {short} is missing. These come nearest.",
            "no_opening": "No place opens the box as far as is asked. These open most.",
            "box_open": "This is left out: no size that works was found for its box.",
            "no_lid": "No lid of this shape covers the box with its margin: {short} is missing at the largest size.",
            "layer_larger": (
                "A layer has a size of its own and is {short} larger than this lid. Leave the layer's own size out, "
                "and it will follow."
            ),
            "layers_smaller": (
                "Every layer has a size of its own, and the largest is {short} smaller than this lid. Leave the size "
                "of the lowest out, and it will follow."
            ),
            "no_owned": (
                "None of the sizes you own covers the box with its margin: {short} is missing at the largest of them."
            ),
            "not_filled": "No sizes use the whole sheet: at least {short} is left over. This is the nearest.",
            "off_stops": "No sizes lie on the grooves of your board. These lie on the marks of your ruler.",
            "piece_too_large": ("The walls leave no room for a base on this sheet. With walls {short} lower it works."),
            "piece_too_large/smallest piece": "The piece is {short} longer than the sheet.",
        }
    )
    among: str = "Looked for among the sizes you own: {sizes}."
    nothing: str = "Nothing that can be folded fits this sheet."
    # Values of a lid's place, as the heads of a table; any other value is called as in the file.
    values: Mapping[str, str] = table(
        {
            "closed": "Closed, turned",
            "moved_right": "Moved right",
            "moved_back": "Moved back",
            "hole_from_corner": "Hole from the corner",
            "hole_beside": "Hole beside the diagonal",
        }
    )
    piece: str = "Piece"
    left_over: str = "Left over"
    to_spare: str = "To spare"
    asked: str = "{percent:.0f} % open from"
    never: str = "at no turn"
    opens: str = "At most"
    turned: str = "By turning"
    inside: str = "Hole inside the edge"
    best: str = "best"
    other: str = "or"
    size: str = "{width} x {height}"
    between: str = "; "
    left: str = "{degrees:g}° to the left"
    right: str = "{degrees:g}° to the right"
    straight: str = "not at all"
    both_ways: str = (
        "The best answer is {percent:.0f} % open from {left:g}° to the left, and from {right:g}° to the right."
    )
    percent: str = "{percent:.0f} %"
    too_small: str = "{size} too small"
    fine_mm: str = "{size:.2f} mm"
    # What is proved of a place; the first of them where nothing was looked into.
    only_good: str = "It is a good place. Whether it is the best was not looked into."
    none_exists: str = "Proved: no place meets all that is asked."
    searched: str = "Searched everywhere, between the marks of your ruler too"
    searched_open: str = "Searched everywhere that the given values leave, between the marks of your ruler too"
    margin_bound: str = (
        "{searched}: no place has more than {bound} to spare. "
        "The best that was found has {found}, on your marks it is {marked}."
    )
    margin_lacks: str = (
        "{searched}: at every place {bound} or more is missing. "
        "At the best that was found {found} is missing, on your marks {marked}."
    )
    angle_bound: str = (
        "With {level} to spare or more, no turn under {bound}° opens {percent:.0f} %. The best that was found takes "
        "{found}°."
    )
    angle_lacks: str = (
        "With no more than {level} missing, no turn under {bound}° opens {percent:.0f} %. The best that was found "
        "takes {found}°."
    )
    # Where the lid's own place is given, only its hole is searched, and what it has to spare is known.
    margin_given: str = "Lying closed like this, the lid has {found} to spare wherever its hole is."
    margin_given_lacks: str = "Lying closed like this, the lid is {found} too small wherever its hole is."
    angle_given: str = (
        "{searched}: with no hole is the box {percent:.0f} % open by a turn under {bound}°. The best that was found "
        "takes {found}°."
    )
    edge_bound: str = (
        "{searched}: where the lid has its margin and opens {percent:.0f} %, no hole lies more than {bound} inside its "
        "edge. The best that was found lies {found} inside, on your marks {marked}."
    )
    unfinished: str = "The search ended before that was narrowed down, so a better place may lie between the two."
    lid_bound: str = "Proved: no lid of this shape of {bound} or less covers the box with its margin, {lies}."
    base_bound: str = "Proved: no base of {bound} or more has its rim covered with the margin, {lies}."
    # How the lid may lie in such a sentence, by how much of its place is open.
    lies: Mapping[str, str] = table(
        {
            "open": "however the lid lies",
            "partly": "wherever the given values let the lid lie",
            "given": "with the lid lying as given",
        }
    )
    size_unfinished: str = "Of the sizes between that and the answer it is not known."
    stopped: str = "The search was stopped. This is the best it had found."
    at_once: str = (
        "A good place is found: {values}. Now it is looked into whether there is a better one; Ctrl-C ends that with "
        "what there is."
    )
    value: str = "{name}: {value}"
    verdicts: Mapping[str, str] = table(
        {
            "proved": "The best answer was tried: it is proved.",
            "not_proved": "The best answer was tried: it is not proved. Run `foldproof prove` on it.",
            "not_decided": "The best answer was tried: it is not decided. Run `foldproof prove` on it.",
        }
    )
