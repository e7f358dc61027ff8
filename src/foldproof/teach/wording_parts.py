"""English names of pieces and parts, and what a changed value means. The front is the side near you."""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.teach.wording_records import PartWording

PIECES: Mapping[str, str] = {"tray": "the tray", "lid": "the lid"}

# By the first word of a part's id; the words after it are its place.
PARTS: Mapping[str, PartWording] = {
    "base": PartWording(one="the base", many="the bases", all_four="all four bases"),
    "wall": PartWording(one="the {place} wall", many="the {places} walls", all_four="all four walls"),
    "tab": PartWording(one="the {place} tab", many="the {places} tabs", all_four="all four tabs"),
    "inner": PartWording(
        one="the {place} inner wall", many="the {places} inner walls", all_four="all four inner walls"
    ),
}
PLACES: Mapping[str, str] = {"back": "back", "front": "front", "right": "right", "left": "left"}
UNKNOWN_PART = "the part {name}"
FOLD_OF = "the fold of {part}"
PART_OF = "{part} of {piece}"

# By "name=text" for one choice, else by the value's name. A value outside a part has its whole path.
CHANGES: Mapping[str, str] = {
    "base_length": "make the base {value} from left to right",
    "base_width": "make the base {value} from front to back",
    "wall_height": "make the walls {value} tall",
    "inner_wall": "make the inner walls {value} deep",
    "piece=cut to size": "cut the piece to size first",
    "piece=whole sheet": "use the whole sheet",
    "piece": "cut the piece to {value}",
    "tab_length": "make the tabs {value} long",
    "tab_length=to meet its neighbour": "cut the tabs so that two meet on each side",
    "tab_length=as long as the wall is tall": "make the tabs as long as the walls are tall",
    "relief": "slant the ends of the tabs by {value}",
    "allowance": "allow {value} for the thickness of the card",
    "allowance=computed": "allow for the thickness of the card",
    "allowance=none": "leave out the allowance for thickness",
    "glue": "use {value}",
    "lid": "make the lid {value}",
    "lid=none": "leave out the lid",
    "lid_wall": "make the lid {value} deep",
    "lid_wall=as wall_height": "make the lid as deep as the tray",
    "lid_ease": "make the lid {value} larger than the tray",
    "lid_ease=usual": "give the lid the usual room",
    "lid_ease=computed": "work out the room of the lid from the card",
    "cardstock.name": "call the card {value}",
    "cardstock.sheet": "use a sheet of size {value}",
    "cardstock.measured": "take a sheet that measures {value}",
    "cardstock.weight": "use card of {value}",
    "cardstock.thickness": "use card {value} thick",
    "cardstock.core": "use card with a {value} core",
    "cardstock.printed": "use {value} card",
    "cardstock.printed=one side": "use card coloured on one side",
    "cardstock.printed=both sides": "use card coloured on both sides",
    "cardstock.grain": "set the grain to {value}",
    "cardstock.print_direction": "set the way the print stands to {value}",
    "cardstock.fill": "draw the card in {value}",
    "board.stops": "use a scoring board with {value}",
    "content.length": "plan for something {value} long",
    "content.width": "plan for something {value} wide",
    "content.height": "plan for something {value} tall",
    "content.ease": "leave {value} of room round it",
    "ruler": "work to marks of {value}",
    "unit": "plan in {value}",
}
UNKNOWN_CHANGE = "set {name} to {value}"
