"""Which papers a project's sides take, and how large: clear of tabs, rim, inner layers and the way of the lid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from foldproof.checks.proof import Proof
from foldproof.constructions.turning_lid import TurningLidValues, shape_name
from foldproof.design.lid_parts import LidParts
from foldproof.design.measure import Measured
from foldproof.lengths import ZERO, Length, in_words, length
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Assembly, BoxForm
from foldproof.project.records import Part, Project
from foldproof.views.panel_papers import PanelPaper, PaperPlan, Place, measured, rectangle_paper, shaped_paper
from foldproof.views.piece import plain
from foldproof.words.catalogue import ENGLISH, Language

PAIRS: tuple[tuple[Place, str, int], ...] = (("front and back", "wall_front", 0), ("left and right", "wall_left", 1))


class Made(Protocol):
    """A part with its pieces as they are marked: of a measured project, or of what was proved."""

    @property
    def part(self) -> Part: ...
    @property
    def pieces(self) -> tuple[MeasuredPiece, ...]: ...
    @property
    def assembly(self) -> Assembly: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class _Proved:
    part: Part
    pieces: tuple[MeasuredPiece, ...]
    assembly: Assembly


def papers_of(measured_project: Measured, lids: tuple[LidParts, ...], *, language: Language = ENGLISH) -> PaperPlan:
    """Every paper of the sides that were asked for; none when the project asks for none."""
    return _papers(measured_project.project, measured_project.parts, lids, language=language)


def proved_papers(
    project: Project, proof: Proof, lids: tuple[LidParts, ...], *, language: Language = ENGLISH
) -> PaperPlan:
    """The same papers, of a project that was proved."""
    parts = [part.evidence for part in proof.parts]
    made = [
        _Proved(part=each.part, pieces=tuple(piece.measured for piece in each.pieces), assembly=each.assembly)
        for each in parts
    ]
    return _papers(project, made, lids, language=language)


def _papers(
    project: Project, parts: Sequence[Made], lids: tuple[LidParts, ...], *, language: Language = ENGLISH
) -> PaperPlan:
    if project.papers is None:
        return PaperPlan(papers=(), left_out=())
    found: list[PanelPaper] = []
    said: list[str] = []
    by_name = {lid.name: lid for lid in lids}
    for part in parts:
        if part.part.name in by_name:
            _lid_paper(project, by_name[part.part.name], found, said, language=language)
        elif part.assembly.forms:
            _tray_papers(project, part, lids, found, said, language=language)
    return PaperPlan(papers=tuple(found), left_out=tuple(dict.fromkeys(said)))


def _tray_papers(
    project: Project,
    part: Made,
    lids: tuple[LidParts, ...],
    found: list[PanelPaper],
    said: list[str],
    *,
    language: Language = ENGLISH,
) -> None:
    assert project.papers is not None
    moving = {joint.moving for joint in part.assembly.joints}
    for form in part.assembly.forms:
        piece = next(each for each in part.pieces if each.piece.id == form.piece)
        name = part.part.name if len(part.pieces) == 1 or form.piece not in moving else form.piece
        if "outer walls" in project.papers.sides:
            taken = _taken_by_lid(project, part, form, lids, name, said, language=language)
            _wall_papers(project, name, piece, taken, found, said, language=language)
        if "base" in project.papers.sides and form.piece not in moving:
            sides = (measured(form.inner_mm[0]), measured(form.inner_mm[1]))
            said.append(language.tables.papers_thick.format(part=language.term(plain(name)).capitalize()))
            _add(
                project,
                rectangle_paper(name, form.piece, "base", sides, project, 1),
                name,
                "base",
                found,
                said,
                language=language,
            )
        if "lid" in project.papers.sides and form.piece in moving:
            sides = _sides(piece, "base")
            _add(
                project,
                rectangle_paper(name, form.piece, "lid", sides, project, 1),
                name,
                "lid",
                found,
                said,
                language=language,
            )


def _sides(piece: MeasuredPiece, panel_id: str) -> tuple[Length, Length]:
    """The sides of a rectangular panel as it is marked."""
    panel = next(panel for panel in piece.piece.panels if panel.id == panel_id)
    xs, ys = [x for x, _ in panel.outline], [y for _, y in panel.outline]
    return measured(max(xs) - min(xs)), measured(max(ys) - min(ys))


def _wall_papers(
    project: Project,
    name: str,
    piece: MeasuredPiece,
    taken: Length | None,
    found: list[PanelPaper],
    said: list[str],
    *,
    language: Language = ENGLISH,
) -> None:
    """Papers for both pairs of walls, whose upper part ``taken`` stays bare; None: all of it."""
    for place, panel_id, upright in PAIRS:
        if taken is None:
            said.append(
                language.tables.papers_lid_covers.format(
                    part=language.term(plain(name)).capitalize(), side=language.tables.papers_sides[place]
                )
            )
            continue
        sides = _sides(piece, panel_id)
        # A left wall lies on its side in the flat piece: it is as long as the piece is deep.
        long_side, tall = (sides[1], sides[0]) if upright else sides
        paper = rectangle_paper(name, piece.piece.id, place, (long_side, tall - taken), project, 2)
        _add(project, paper, name, place, found, said, language=language)


def _taken_by_lid(
    project: Project,
    part: Made,
    form: BoxForm,
    lids: tuple[LidParts, ...],
    name: str,
    said: list[str],
    *,
    language: Language = ENGLISH,
) -> Length | None:
    """How much of the walls below the rim a lid needs; None when it covers them."""
    for joint in part.assembly.joints:
        if form.piece == joint.fixed:
            wall = _sides(next(each for each in part.pieces if each.piece.id == joint.fixed), "wall_front")[1]
            lid_wall = _sides(next(each for each in part.pieces if each.piece.id == joint.moving), "wall_front")[1]
            if lid_wall >= wall:
                return None
            said.append(
                language.tables.papers_below_lid.format(
                    part=language.term(plain(name)).capitalize(), size=in_words(lid_wall, project.ruler)
                )
            )
            return lid_wall
    hanging = max(
        (
            layer.droop_mm
            for lid in lids
            if lid.host.part.name == part.part.name and lid.host_piece == form.piece
            for layer in lid.turning.lid.layers
        ),
        default=0.0,
    )
    if hanging <= 0.0:
        return ZERO
    drop = length(f"{hanging:.4f}", "mm")
    said.append(
        language.tables.papers_hangs_over.format(
            part=language.term(plain(name)).capitalize(), size=in_words(drop, project.ruler)
        )
    )
    return drop


def _lid_paper(
    project: Project, lid: LidParts, found: list[PanelPaper], said: list[str], *, language: Language = ENGLISH
) -> None:
    """The top layer of a turning lid, when a paper is wanted there."""
    assert project.papers is not None
    if "lid" not in project.papers.sides:
        return
    values = lid.values
    assert isinstance(values, TurningLidValues)
    top = lid.pieces[-1]
    outline = top.piece.panels[0].outline
    paper = shaped_paper(lid.name, top.piece.id, shape_name(values), outline, project)
    _add(project, paper, lid.name, "lid", found, said, language=language)


def _add(
    project: Project,
    paper: PanelPaper | None,
    name: str,
    place: Place,
    found: list[PanelPaper],
    said: list[str],
    *,
    language: Language = ENGLISH,
) -> None:
    if paper is None:
        said.append(
            language.tables.papers_nothing_left.format(
                part=language.term(plain(name)).capitalize(), side=language.tables.papers_sides[place]
            )
        )
    else:
        found.append(paper)
