"""Faces for a page of running text: the part of a face its letters need, with the figures of its fractions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

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
FEATURES = ("frac", "numr", "dnom", "ccmp")  # fractions, and letters with their marks
# Figures, and what a line may need that no text names: a space that does not part, and what parts a fraction.
ALWAYS = "0123456789/\u2044 \u00a0-\u2013\u2026"


def web_font(face: WebFace, characters: frozenset[str]) -> bytes:
    """The face as WOFF (W3C, 2012) with the characters it has of these; the same ones give the same bytes."""
    from importlib.resources import files
    from io import BytesIO

    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    source = files(face.package).joinpath("files", face.file).read_bytes()
    font = TTFont(BytesIO(source), recalcTimestamp=False)
    for table in ("GPOS", "BASE"):
        if table in font:
            del font[table]  # reading it takes most of the time; the fractions are in GSUB
    options = Options(layout_features=list(FEATURES), name_IDs=[1, 2], hinting=False, notdef_outline=True)
    subsetter = Subsetter(options)
    subsetter.populate(text="".join(sorted(characters | set(ALWAYS))))
    subsetter.subset(font)
    font.flavor = "woff"
    written = BytesIO()
    font.save(written)
    return written.getvalue()
