"""Faces for a page of running text: the part of a face its letters need, with the figures of its fractions."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from foldproof.drawing.subsets import letter_subset, opened

WebFamily = Literal["serif", "sans"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WebFace:
    """One weight of a family, and where its package keeps it."""

    family: WebFamily
    weight: int
    package: str
    file: str


WEB_FACES = (
    WebFace(family="serif", weight=300, package="font_source_serif_pro", file="SourceSerifPro-Light.ttf"),
    WebFace(family="serif", weight=400, package="font_source_serif_pro", file="SourceSerifPro-Regular.ttf"),
    WebFace(family="serif", weight=600, package="font_source_serif_pro", file="SourceSerifPro-Semibold.ttf"),
    WebFace(family="sans", weight=400, package="font_source_sans_pro", file="SourceSansPro-Regular.ttf"),
    WebFace(family="sans", weight=600, package="font_source_sans_pro", file="SourceSansPro-Semibold.ttf"),
)
FEATURES = ("frac", "numr", "dnom", "ccmp", "kern")  # fractions, letters with their marks, pairs moved together
# Figures, and what a line may need that no text names: a space that does not part, and what parts a fraction.
ALWAYS = "0123456789/\u2044 \u00a0-\u2013\u2026"


def web_font(face: WebFace, characters: frozenset[str]) -> bytes:
    """The face as WOFF (W3C, 2012) with the characters it has of these; the same ones give the same bytes."""
    from io import BytesIO

    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(letter_subset(_face(face), characters | set(ALWAYS), FEATURES)), recalcTimestamp=False)
    font.flavor = "woff"
    written = BytesIO()
    font.save(written)
    return written.getvalue()


@cache
def _face(face: WebFace) -> Any:
    from importlib.resources import files

    return opened(files(face.package).joinpath("files", face.file).read_bytes())
