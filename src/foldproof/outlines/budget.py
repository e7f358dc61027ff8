"""What may be spent on reading a drawing, counted, so that no file takes long whatever it holds."""

from __future__ import annotations

from foldproof.errors import InputError, wrong

MOST_BYTES = 5_000_000  # a drawing of one outline has a few thousand
MOST_NUMBERS = 200_000  # of coordinates and other lengths
MOST_POINTS = 1_000_000  # when all curves are flattened
MOST_ELEMENTS = 25_000  # written in the file
MOST_DRAWN = 20_000  # shapes and groups gone through, each as often as it is copied
MOST_RULES = 200  # of style sheets
MOST_COPIES = 1_000  # of what is drawn once and used again
MOST_RINGS = 2_000  # closed outlines of one drawing
MOST_FROM_ORIGIN_MM = 1e6  # a kilometre: no drawing of a lid reaches so far

FILE = "the file"


class Budget:
    """What is left to spend while one drawing is read. InputError as soon as anything is over."""

    def __init__(self) -> None:
        self._left = {
            "numbers": MOST_NUMBERS,
            "points": MOST_POINTS,
            "elements": MOST_ELEMENTS,
            "shapes and groups": MOST_DRAWN,
            "style rules": MOST_RULES,
            "copies": MOST_COPIES,
            "closed outlines": MOST_RINGS,
        }

    def spend(self, what: str, count: int) -> None:
        """So many more of one of them."""
        self._left[what] -= count
        if self._left[what] < 0:
            raise too_much(what)


def too_much(what: str) -> InputError:
    """The refusal of a drawing with too many of something."""
    reason = f"holds far too many {what} for a drawing of a shape"
    return wrong(FILE, "", reason, "save the outline alone in a file of its own")


def refuse_large(data: bytes) -> None:
    """InputError when a file has more bytes than a drawing of a shape."""
    if len(data) > MOST_BYTES:
        told = f"{len(data) / 1e6:.1f} MB"
        reason = f"is larger than {MOST_BYTES // 1_000_000} MB, far too large for a drawing of a shape"
        raise wrong(FILE, told, reason, "save the outline alone in a file of its own")


def too_far() -> InputError:
    """The refusal of a drawing that reaches too far, or has a place that is no number."""
    return wrong(FILE, "", "has a place that is no number, or a kilometre away", "draw the shape in its true size")
