"""A proved turning lid with all that its paper and its steps are drawn from."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import lru_cache

from foldproof.checks.evidence import Evidence
from foldproof.checks.proof import Proof
from foldproof.checks.turning_evidence import Turning
from foldproof.constructions.turning_lid import CAP, TRIANGLE, TurningLidValues, closed_shift, lid_shape
from foldproof.design.measure import MeasuredPart
from foldproof.drawing.records import Point
from foldproof.layout.waste import WastePlace, place_in_waste
from foldproof.lids.holes import with_holes
from foldproof.lids.landmarks import HolePlace, hole_place
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.views.cut_picture import Kept
from foldproof.views.hole_guide import closed_tips, lowest_turn_rad
from foldproof.views.layer_pages import cut_words
from foldproof.views.lid_by_hand import spare_line
from foldproof.views.lid_by_sight import sight_lines
from foldproof.views.piece import size_words
from foldproof.words.catalogue import ENGLISH, Language

PROOFS_KEPT = 4  # whose lids are remembered: every paper of a pack asks for them


@dataclass(frozen=True, slots=True, kw_only=True)
class LidParts:
    """A turning lid: its values, what was analysed, its pieces with their holes, and the part it closes.

    ``tips`` are the tips of the closed lid in the box's frame; ``place`` is the hole told from the lid's own marks,
    None where it has none. ``host_piece`` is the folded piece that carries it, and ``kept`` are the parts of that
    piece's waste from which the pieces named in ``from_waste`` are cut.
    """

    evidence: Evidence
    host: Evidence
    turning: Turning
    values: TurningLidValues
    pieces: tuple[MeasuredPiece, ...]
    tips: tuple[Point, ...]
    place: HolePlace | None
    host_piece: str
    kept: tuple[Kept, ...]
    from_waste: tuple[str, ...]

    @property
    def name(self) -> str:
        """The part's name."""
        return self.evidence.part.name


@lru_cache(maxsize=PROOFS_KEPT)
def lids_of(proof: Proof, *, language: Language = ENGLISH) -> tuple[LidParts, ...]:
    """Every turning lid of a proof, in the file's order."""
    by_name = {part.evidence.part.name: part.evidence for part in proof.parts}
    return tuple(
        lid_parts(part.evidence, by_name[part.evidence.part.on], part.evidence.turning, language=language)
        for part in proof.parts
        if part.evidence.turning is not None
    )


def sight_of(project: Project, lid: LidParts, *, language: Language = ENGLISH) -> tuple[str, ...]:
    """How the hole is found by what can be seen on the lid, and how far off it may be; nothing without marks."""
    if lid.place is None:
        return ()
    ruler, other = project.ruler, project.other_ruler
    return (
        *sight_lines(lid.place, ruler, other, language=language),
        spare_line(lid.turning, lid.place.off_mm, ruler, other, language=language),
    )


def cut_words_of(project: Project, part: MeasuredPart, *, language: Language = ENGLISH) -> tuple[tuple[str, str], ...]:
    """By piece, what to cut for a turning lid, in words; nothing for other parts."""
    if not isinstance(part.part.values, TurningLidValues):
        return ()
    return cut_words(part.part.values, part.pieces, project.ruler, project.other_ruler, language=language)


def lid_parts(evidence: Evidence, host: Evidence, turning: Turning, *, language: Language = ENGLISH) -> LidParts:
    """A lid on its box, as it was analysed."""
    values = evidence.part.values
    assert isinstance(values, TurningLidValues), "only a turning lid is analysed as one"
    measured = tuple(piece.measured for piece in evidence.pieces)
    holed = with_holes([piece.piece for piece in measured], turning.box, turning.lid)
    pieces = tuple(dataclasses.replace(piece, piece=flat) for piece, flat in zip(measured, holed, strict=True))
    lowest = next(piece for piece in pieces if piece.piece.id == turning.lid.layers[0].name)
    shape = lid_shape(values, lowest.marked.measure_mm("size"))
    host_piece = host.assembly.forms[0].piece
    kept = _kept(
        next(piece.measured for piece in host.pieces if piece.measured.piece.id == host_piece),
        pieces,
        language=language,
    )
    return LidParts(
        evidence=evidence,
        host=host,
        turning=turning,
        values=values,
        pieces=pieces,
        tips=closed_tips(values, turning.box, lowest.marked.measure_mm("size")),
        place=hole_place(
            shape,
            lowest_turn_rad(values, shape, turning.box),
            closed_shift(values),
            turning.lid.hole,
            evidence.project.ruler,
        ),
        host_piece=host_piece,
        kept=tuple(each for _, each in kept),
        from_waste=tuple(name for name, _ in kept),
    )


def _kept(
    host: MeasuredPiece, pieces: tuple[MeasuredPiece, ...], *, language: Language = ENGLISH
) -> tuple[tuple[str, Kept], ...]:
    """Where the strips of triangle and cap lie in the host's waste: both, else the triangle's alone, else none."""
    strips = [piece for piece in pieces if piece.piece.id in (TRIANGLE, CAP)]
    blank = (host.piece.blank_width_mm, host.piece.blank_height_mm)
    panels = [panel.outline for panel in host.piece.panels]
    for some in (strips, strips[:1]):
        places = place_in_waste(
            blank, panels, [(each.piece.blank_width_mm, each.piece.blank_height_mm) for each in some]
        )
        if places is not None:
            return tuple(
                (each.piece.id, _keep(each, place, language=language)) for each, place in zip(some, places, strict=True)
            )
    return ()


def _keep(strip: MeasuredPiece, place: WastePlace, *, language: Language = ENGLISH) -> Kept:
    words, letter = (
        (language.lid.triangle_strip, language.lid.triangle_letter)
        if strip.piece.id == TRIANGLE
        else (language.lid.cap_strip, language.lid.cap_letter)
    )
    return Kept(
        outline=place.outline, words=words, letter=letter, size=size_words(strip.width, strip.height, language=language)
    )
