"""The part of a font file that a drawing or a page needs; the same letters give the same bytes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

# What a font needs that is only looked up by the number of a glyph: lines are set before they get there.
LEFT_OUT = (
    *("GSUB", "GPOS", "GDEF", "BASE", "DSIG", "OS/2", "name", "post", "cmap", "gasp", "kern"),
    *("STAT", "HVAR", "MVAR"),
)
FAMILY, STYLE = 1, 2  # names that a font in a page keeps


@dataclass(frozen=True, slots=True, kw_only=True)
class Subset:
    """A TrueType file with only some glyphs; ``places`` gives each glyph's number in it."""

    data: bytes
    places: dict[str, int]


def opened(data: bytes) -> Any:
    """A font file, for the functions below."""
    import uharfbuzz

    return uharfbuzz.Face(data)


def glyph_subset(font: Any, numbers: Mapping[str, int], weight: int | None = None) -> Subset:
    """The glyphs with these numbers, by their names, in one ``weight`` where the font has several."""
    import uharfbuzz

    wanted = _wanted()
    wanted.glyph_set.update([0, *sorted(numbers.values())])
    wanted.drop_table_tag_set.update(_tags(LEFT_OUT))
    if weight is not None:
        wanted.pin_axis_location(font, "wght", float(weight))
    plan = uharfbuzz.SubsetPlan(font, wanted)
    made = plan.execute()
    new = plan.old_to_new_glyph_mapping
    return Subset(data=bytes(made.blob.data), places={glyph: new[number] for glyph, number in numbers.items()})


def letter_subset(font: Any, characters: frozenset[str], features: tuple[str, ...]) -> bytes:
    """What draws these characters, with these features of its layout."""
    wanted = _wanted()
    wanted.unicode_set.update(sorted(map(ord, characters)))
    wanted.layout_feature_tag_set.clear()
    wanted.layout_feature_tag_set.update(_tags(features))
    wanted.name_id_set.clear()
    wanted.name_id_set.update([FAMILY, STYLE])
    wanted.drop_table_tag_set.update(_tags(("BASE", "DSIG", "gasp")))
    return bytes(wanted.subset(font).blob.data)


def _wanted() -> Any:
    import uharfbuzz

    wanted = uharfbuzz.SubsetInput()
    wanted.flags = uharfbuzz.SubsetFlags.NO_HINTING | uharfbuzz.SubsetFlags.NOTDEF_OUTLINE
    return wanted


def _tags(names: Iterable[str]) -> list[int]:
    return [int.from_bytes(name.encode("ascii"), "big") for name in names]
