"""English names of pieces and parts, and what a changed value means. The front is the side near you."""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.teach.wording_records import PartWording

_ORDINALS = {21: "st", 22: "nd", 23: "rd", 31: "st", 32: "nd", 33: "rd"}

PIECES: Mapping[str, str] = {
    "tray": "the tray",
    "lid": "the lid",
    "triangle": "the corner triangle",
    "cap": "the top triangle",
    "layer_1": "the lowest layer",
    "layer_2": "the second layer",
    "layer_3": "the third layer",
    "layer_4": "the fourth layer",
    "layer_5": "the fifth layer",
    "layer_6": "the sixth layer",
    "layer_7": "the seventh layer",
    "layer_8": "the eighth layer",
    **{f"layer_{number}": f"the {number}{_ORDINALS.get(number, 'th')} layer" for number in range(9, 41)},
}

# By the first word of a part's id; the words after it are its place.
PARTS: Mapping[str, PartWording] = {
    "base": PartWording(one="the base", many="the bases", all_four="all four bases"),
    "wall": PartWording(one="the {place} wall", many="the {places} walls", all_four="all four walls"),
    "tab": PartWording(one="the {place} tab", many="the {places} tabs", all_four="all four tabs"),
    "inner": PartWording(
        one="the {place} inner wall", many="the {places} inner walls", all_four="all four inner walls"
    ),
    "triangle": PartWording(
        one="the corner triangle", many="the corner triangles", all_four="all four corner triangles"
    ),
    "flap": PartWording(one="the {place} flap", many="the {places} flaps", all_four="all four flaps"),
    "cap": PartWording(one="the top triangle", many="the top triangles", all_four="all four top triangles"),
    "layer": PartWording(one="the layer", many="the layers", all_four="all four layers"),
}
PLACES: Mapping[str, str] = {"back": "back", "front": "front", "right": "right", "left": "left"}
UNKNOWN_PART = "the part {name}"
FOLD_OF = "the fold of {part}"
PART_OF = "{part} of {piece}"

# By "name=text" for one choice, "name<0" for a length under nothing, else by the value's name. A value outside a part
# has its whole path, one of a layer "layers." before it. ``{value}`` is a length with its unit and no sign,
# ``{plain}`` the text as it is typed.
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
    "on": "put the lid on the part called {plain}",
    "shape=disc": "make the lid a disc",
    "shape=square": "make the lid a square",
    "shape=rounded square": "make the lid a square with round corners",
    "shape=regular polygon": "give the lid straight sides, all alike",
    "shape=scalloped disc": "make the lid a disc with scallops",
    "shape=rosette": "make the lid a rosette",
    "shape=star": "make the lid a star",
    "shape=heart": "make the lid a heart",
    "across": "make the lid {value} across",
    "lobes": "give the lid {plain} lobes, points or sides",
    "lobes=usual": "give the lid the usual number of lobes, points or sides",
    "depth": "make the lobes, points or round corners {value} deep",
    "depth=usual": "give the lobes, points or round corners their usual depth",
    "corner": "put the triangle and the hole in the {plain} corner",
    "closed": "close the lid turned by {plain}°",
    "closed=tip over the corner": "close the lid with a tip over the corner",
    "closed=dip over the corner": "close the lid with a dip over the corner",
    "closed=as drawn": "close the lid as it is drawn",
    "strip": "cut the strip for the triangle {value} wide",
    "hole_from_corner": "put the hole {value} from the inner corner",
    "moved_right": "close the lid {value} to the right of the middle",
    "moved_right<0": "close the lid {value} to the left of the middle",
    "moved_back": "close the lid {value} behind the middle",
    "moved_back<0": "close the lid {value} in front of the middle",
    "opens": "open the lid {plain}",
    "fastener": "turn the lid on a {plain}",
    "fastener=eyelet": "turn the lid on an eyelet",
    "hole": "make the hole {value} wide",
    "head": "use a head {value} wide",
    "legs": "use a brad with legs {value} long",
    "layers.across": "make {layer} {value} across",
    "layers.across=as the lid": "make {layer} as large as the lid",
    "layers.colour": "cut {layer} from {plain}",
    "layers.fill": "draw {layer} in {plain}",
    "layers.turned": "turn {layer} by {plain}°",
    "layers.turned=not turned": "do not turn {layer}",
    "layers.fixed": "fix {layer} with {plain}",
    "layers.foam": "use foam {value} thick under {layer}",
    "layers.brad=through": "take the brad through {layer}",
    "layers.brad=hidden under it": "hide the brad under {layer}",
    "layers.edge=flat": "make {layer} flat",
    "layers.edge=hanging": "let the edge of {layer} hang down",
    "layers.edge=lifted": "lift the edge of {layer}",
    "layers.edge_by": "shape the edge of {layer} by {value}",
    "layers.border": "make the shaped edge of {layer} {value} wide",
    "layers.greeting=yes": "put the greeting on {layer}",
    "layers.greeting=no": "put no greeting on {layer}",
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
