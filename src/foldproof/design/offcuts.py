"""Which layers of a lid are cut from what other pieces leave of their sheets, and how many sheets that takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from foldproof.constructions.turning_lid import DISC, is_layer
from foldproof.design.alternative_parts import AlternativeParts
from foldproof.design.lid_parts import LidParts
from foldproof.design.measure import Measured
from foldproof.drawing.records import Page
from foldproof.geometry.plane import Polygon
from foldproof.layout.offcuts import Cut, Nested, nested
from foldproof.layout.shelves import Wanted, on_shelves
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.teach.messages import piece_words
from foldproof.views.layer_pages import layer_cards
from foldproof.views.offcut_pages import offcut_pages
from foldproof.words.catalogue import ENGLISH, Language

Key = tuple[str, str]  # part and piece

MOST_CUTS = 12  # of one card, laid out by their outlines: more are laid out as rectangles, which takes no time
LAYOUTS_KEPT = 32  # remembered: every paper of a pack asks for them


@dataclass(frozen=True, slots=True, kw_only=True)
class OnSheets:
    """The pieces of one card on its sheets, by their outlines. Names are ``part/piece/copy``."""

    stock: str
    layout: Nested
    fewer: bool  # than their rectangles take


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcuts:
    """What is laid out by outlines. ``of``: a layer or a disc, and the piece from whose offcut it is cut."""

    on_sheets: tuple[OnSheets, ...]
    of: tuple[tuple[Key, Key], ...]

    @property
    def sheets(self) -> dict[str, int]:
        """By card, how many sheets it takes where that is fewer than the rectangles take."""
        return {each.stock: each.layout.sheets for each in self.on_sheets if each.fewer}

    def told(self, *, language: Language = ENGLISH) -> dict[Key, str]:
        """By part and piece, the piece from whose offcut it is cut, in words."""
        return {key: piece_words(first[1], catalogue=language.told) for key, first in self.of}


def offcuts_of(project: Project, pieces: Sequence[tuple[MeasuredPiece, str]]) -> Offcuts:
    """The layout of pieces, each with its card. Cards that no layer is cut from are left to rectangles."""
    sheet = project.cardstock.usable_sheet
    size = (sheet.width.float_mm, sheet.height.float_mm)
    turns = project.cardstock.print_direction == "none"
    found, of = [], []
    for stock in dict.fromkeys(card for _, card in pieces):
        own = [piece for piece, card in pieces if card == stock]
        cuts = tuple(
            Cut(name=f"{piece.part}/{piece.piece.id}/{copy}", outline=outline_of(piece), may_turn=turns)
            for piece in own
            for copy in range(piece.copies)
        )
        if not any(_is_flat(piece.piece.id) for piece in own) or not 2 <= len(cuts) <= MOST_CUTS:
            continue
        layout = _nested(cuts, size)
        wanted = [
            Wanted(name=piece.piece.id, width=piece.width.shown, height=piece.height.shown)
            for piece in own
            for _ in range(piece.copies)
        ]
        shelves = on_shelves(wanted, (sheet.width, sheet.height))
        if layout.too_large or (not shelves.too_large and layout.sheets > shelves.sheets):
            continue
        fewer = bool(shelves.too_large) or layout.sheets < shelves.sheets
        found.append(OnSheets(stock=stock, layout=layout, fewer=fewer))
        of += [
            (_key(place.name), _key(place.offcut_of))
            for place in layout.placed
            if place.offcut_of and _is_flat(_key(place.name)[1])
        ]
    return Offcuts(on_sheets=tuple(found), of=tuple(of))


@lru_cache(maxsize=LAYOUTS_KEPT)
def _nested(cuts: tuple[Cut, ...], sheet_mm: tuple[float, float]) -> Nested:
    return nested(cuts, sheet_mm)


def _key(name: str) -> Key:
    part, piece, _ = name.split("/")
    return (part, piece)


def _is_flat(piece_id: str) -> bool:
    """Whether a piece is cut out by its outline: a layer, or the disc round the hole."""
    return is_layer(piece_id) or piece_id == DISC


def outline_of(piece: MeasuredPiece) -> Polygon:
    """What has to be free on the sheet: the outline of a layer or a disc, the blank of any other piece."""
    flat = piece.piece
    if _is_flat(flat.id):
        return flat.panels[0].outline
    wide, tall = flat.blank_width_mm, flat.blank_height_mm
    return ((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall))


def with_card(
    pieces: Sequence[MeasuredPiece], cards: Mapping[Key, tuple[str, str]], project: Project
) -> tuple[tuple[MeasuredPiece, str], ...]:
    """Pieces with the card each is cut from: a layer's own, the project's for all others."""
    return tuple((piece, cards.get((piece.part, piece.piece.id), ("", project.cardstock.name))[1]) for piece in pieces)


def layout_pages(
    project: Project, offcuts: Offcuts, project_name: str, *, not_proved: bool, language: Language = ENGLISH
) -> tuple[Page, ...]:
    """A leaf for each sheet whose pieces lie on it only by their outlines."""
    return tuple(
        page
        for each in offcuts.on_sheets
        if each.fewer
        for page in offcut_pages(
            each.layout.placed,
            {place.name: piece_words(_key(place.name)[1], catalogue=language.told) for place in each.layout.placed},
            each.stock,
            project.cardstock.usable_sheet,
            project.ruler,
            project_name,
            not_proved=not_proved,
            in_class=project.teach.version == "class",
            language=language,
        )
    )


def main_offcuts(measured: Measured, lids: Sequence[LidParts]) -> Offcuts:
    """The layout of a project's own pieces, without those cut from the waste of others."""
    return offcuts_of(measured.project, _pieces(measured, lids))


def other_offcuts(measured: Measured, lids: Sequence[LidParts], other: AlternativeParts) -> Offcuts:
    """The layout with an alternative's pieces in place of the lid's that it is made instead of."""
    kept = _pieces(measured, [lid for lid in lids if lid.name != other.of], leave_out=other.of)
    own = [piece for piece in other.own if piece.piece.id not in other.lid.from_waste]
    cards = layer_cards(other.lid.values, other.own)
    return offcuts_of(measured.project, (*kept, *with_card(own, cards, measured.project)))


def _pieces(measured: Measured, lids: Sequence[LidParts], leave_out: str = "") -> tuple[tuple[MeasuredPiece, str], ...]:
    by_name = {lid.name: lid for lid in lids}
    found: list[tuple[MeasuredPiece, str]] = []
    for part in measured.parts:
        lid = by_name.get(part.part.name)
        if lid is not None:
            own = [piece for piece in lid.pieces if piece.piece.id not in lid.from_waste]
            found += with_card(own, layer_cards(lid.values, lid.pieces), measured.project)
        elif part.part.name != leave_out:
            found += with_card(part.pieces, {}, measured.project)
    return tuple(found)
