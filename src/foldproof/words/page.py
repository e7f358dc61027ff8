"""English: what the files themselves say: the web page, cut files, print notes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class PageWords:
    """What the files themselves say: the web page, cut files, print notes."""

    code_alt: str = "QR code of the link {target}"
    skip: str = "To the text"
    contents: str = "Contents"
    step: str = "Step"
    back: str = "Back: step {number}"
    next: str = "Next: step {number}"
    drawing: str = "Drawing {number}"
    slides: str = "Slide the drawing sideways →"
    caution: str = "Caution: "
    print_how: str = "Print double-sided, flip on the short edge, fold in the middle."
    cut_meanings: Mapping[str, str] = table({"valley": "score, fold up", "mountain": "score, fold back", "cut": "cut"})
