"""Proved alternatives with all that their paper is drawn from, and which of their pieces are not the lid's own."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import lru_cache

from foldproof.checks.proof import Proof, Verdict
from foldproof.constructions.turning_lid import is_layer
from foldproof.design.lid_parts import LidParts, lid_parts, lids_of
from foldproof.pattern.measured import MeasuredPiece
from foldproof.words.catalogue import ENGLISH, Language

PROOFS_KEPT = 4  # whose alternatives are remembered: every paper of a pack asks for them


@dataclass(frozen=True, slots=True, kw_only=True)
class AlternativeParts:
    """A lid that is made instead of the lid ``of``.

    ``own`` are its pieces that are made for it: its layers, and triangle, cap or disc where their holes lie elsewhere
    than the lid's. ``same_hole``: the triangle's hole lies where the lid has it.
    """

    of: str
    lid: LidParts
    own: tuple[MeasuredPiece, ...]
    same_hole: bool
    verdict: Verdict

    @property
    def proved(self) -> bool:
        """Whether its pages need not say that it is not proved."""
        return self.verdict == "proved"

    @property
    def name(self) -> str:
        """Its name."""
        return self.lid.name


@lru_cache(maxsize=PROOFS_KEPT)
def alternatives_of(proof: Proof, *, language: Language = ENGLISH) -> tuple[AlternativeParts, ...]:
    """Every alternative of a proof, in the file's order."""
    hosts = {part.evidence.part.name: part.evidence for part in proof.parts}
    mains = {lid.name: lid for lid in lids_of(proof, language=language)}
    found = []
    for each in proof.alternatives:
        evidence = each.part.evidence
        assert evidence.turning is not None, "an alternative is a turning lid"
        lid = lid_parts(evidence, hosts[evidence.part.on], evidence.turning, language=language)
        found.append(_parts(each.of, lid, mains[each.of], each.verdict))
    return tuple(found)


def _parts(of: str, lid: LidParts, main: LidParts, verdict: Verdict) -> AlternativeParts:
    there = {piece.piece.id: piece for piece in main.pieces}

    def is_there(piece: MeasuredPiece) -> bool:
        other = there.get(piece.piece.id)
        return other is not None and dataclasses.replace(piece, part=other.part) == other

    own = tuple(piece for piece in lid.pieces if is_layer(piece.piece.id) or not is_there(piece))
    return AlternativeParts(
        of=of,
        lid=lid,
        own=own,
        same_hole=all(is_layer(piece.piece.id) for piece in own),
        verdict=verdict,
    )
