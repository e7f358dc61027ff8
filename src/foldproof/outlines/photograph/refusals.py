"""Why a photograph cannot be traced: codes, and the words for them."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.geometry.plane import Point

MOST_MEGAPIXELS = 120.0  # telephones save up to 108 and 200 megapixels; more is no gain for an edge
MOST_MEGABYTES = 60.0  # a photograph of 120 megapixels, well kept
READABLE = "JPEG, PNG or WebP"

REASONS: dict[str, tuple[str, str]] = {
    "empty": ("the file is empty", "choose the photograph again"),
    "not an image": ("this is not a picture", f"choose a photograph saved as {READABLE}"),
    "format": ("{found} pictures cannot be read here", f"save or share the photograph as {READABLE}"),
    "truncated": (
        "the file stops before the picture ends",
        "copy the photograph again; the copy was cut short",
    ),
    "damaged": ("the picture in the file cannot be read", "copy or save the photograph again"),
    "too large": (
        "it has {found:,.0f} {unit}; at most {most:,.0f} are read",
        "save the photograph smaller; 12 megapixels are plenty",
    ),
    "few pixels": (
        "its shorter side has only {found:.0f} pixels; at least {least:.0f} are needed",
        "send the photograph at its full size",
    ),
    "no sheet": (
        "no sheet of paper with four straight sides stands out from the table",
        "have all four corners in the picture and a table of another colour, or point the corners out",
    ),
    "sheet not in view": (
        "the sheet runs out of the picture",
        "step back until all four corners of the sheet are in the picture, with table around them",
    ),
    "corners": (
        "the four corners do not look like a flat sheet seen from above",
        "point out the sheet's four corners, going round it",
    ),
    "proportion": (
        "the sheet looks {found:.1%} {way} than the size that was given: a side is covered, or it is another sheet",
        "name the right sheet and let nothing lie over its sides; in a picture that was cut to a part, point the"
        " corners out",
    ),
    "side covered": (
        "something straight lies along a side of the sheet, so the sheet's own edge is not seen",
        "take away what lies over or along the sheet's sides",
    ),
    "too small": (
        "the sheet has only {found:.1f} pixels to the millimetre in this picture; at least {least:.1f} are needed",
        "go nearer until the sheet fills the picture, or send the photograph at its full size",
    ),
    "no shape": (
        "nothing is seen lying on the sheet",
        "lay the shape on the sheet; if it is there, use a sheet of another colour",
    ),
    "too little contrast": (
        "the shape and the sheet are too nearly the same colour",
        "use a sheet of another colour, darker or brighter than the shape",
    ),
    "several shapes": (
        "{count:.0f} things lie on the sheet",
        "leave only the shape on the sheet; trace others one by one",
    ),
    "touches the edge": (
        "the shape reaches the edge of the sheet",
        "lay the shape inside the sheet, a finger's width from every edge, or use a larger sheet",
    ),
    "shape too small": (
        "the shape is only {found:.0f} mm across; at least {least:.0f} mm are needed",
        "photograph it on a smaller sheet and say that sheet's size",
    ),
    "blurred": (
        "the edges are blurred over {found:.1f} mm; at most {most:.1f} mm will do",
        "hold still, let the camera focus on the shape, and have more light",
    ),
    "thin": (
        "what is seen is a strip {found:.1f} mm wide, as a shadow or a crease makes it, and no shape",
        "use a sheet of another colour than the shape, and light from all around",
    ),
    "glare": (
        "a reflection hides {found:.0f} mm of the shape's edge",
        "turn away from the lamp or window, or photograph without flash",
    ),
    "edge unclear": (
        "{found:.0f} mm of the shape's edge cannot be told from the sheet",
        "use a sheet of another colour and even light",
    ),
    "outline": ("the edge that was found is no single closed line: {found}", "trim loose bits away and use even light"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """A photograph that was not traced: the ``code`` of why, and the numbers behind it.

    ``reason`` and ``remedy`` are in a maker's words. ``corners_px``: the sheet's corners, where they were found, in
    the upright picture from its top left corner, so that a person can look whether they are right.
    """

    code: str
    values: tuple[tuple[str, float | str], ...] = ()
    corners_px: tuple[Point, ...] = ()

    @property
    def reason(self) -> str:
        """Why, as the end of a sentence about the photograph."""
        return REASONS[self.code][0].format(**dict(self.values))

    @property
    def remedy(self) -> str:
        """What would help."""
        return REASONS[self.code][1]
