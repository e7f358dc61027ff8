"""The booklet of a project: its measures, steps, lid and proof put together in words."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

from foldproof.checks.proof import Proof
from foldproof.constructions.fasteners import KINDS, fastener_sizes
from foldproof.constructions.turning_lid import CAP, DISC, TRIANGLE, is_layer
from foldproof.design.lid_parts import LidParts, lids_of, sight_of
from foldproof.design.measure import Measured
from foldproof.design.offcuts import main_offcuts
from foldproof.design.papers import papers_of
from foldproof.design.searched_places import NOWHERE
from foldproof.design.steps import ToldSteps
from foldproof.drawing.records import Block, Document, Page
from foldproof.exports.booklet_pdf import LIVE_MM, BookletLook
from foldproof.lengths import in_words
from foldproof.outlines.own import OwnShape
from foldproof.pattern.measured import MeasuredPiece
from foldproof.project.records import Project
from foldproof.views.alternatives import alternative_blocks, alternatives_table
from foldproof.views.board_picture import Tools
from foldproof.views.booklet import HoleWays, ToldBooklet, booklet_document, plan_blocks
from foldproof.views.booklet_pictures import ShownPiece, key_page, pieces_pages
from foldproof.views.finished import finished_rows
from foldproof.views.labels import TEXT_PT, shortened
from foldproof.views.layer_pages import layer_cards, layer_of
from foldproof.views.lid_by_hand import hand_lines
from foldproof.views.panel_papers import paper_blocks
from foldproof.views.paper import printer_paper
from foldproof.views.piece import piece_title, size_words
from foldproof.views.proof_report import ToldFinding, ToldProof
from foldproof.words.catalogue import ENGLISH, Language

A5_MM = (148.0, 210.0)  # ISO 216
FOOT_MM = 95.0  # room for the project's name beside the page number
REVISION_CHARACTERS = 8  # of the hash of what the project says: enough to tell two papers apart
PIECES_MM = 103.0  # most height of the pieces, so that what else is needed stands on the same page
FINISHED = "finished"  # begins the names of pictures of what comes out, those with a turning lid last
SECTION = "-section"  # ends the name of the cut through a lid, which stands with its step


def booklet_look(project: Project, *, not_proved: bool, language: Language = ENGLISH) -> BookletLook:
    """The leaves: half Letter where inches are used, A5 elsewhere. A project that is not proved says so on each."""
    paper = printer_paper(project.ruler.unit)
    size = (paper.height.float_mm / 2, paper.width.float_mm) if project.ruler.unit == "in" else A5_MM
    return BookletLook(
        width_mm=size[0],
        height_mm=size[1],
        foot=shortened(project.name, "note", TEXT_PT, FOOT_MM),
        notice=language.paper.not_proved if not_proved else "",
        author=project.maker or "",
    )


def card_look(project: Project, *, not_proved: bool, language: Language = ENGLISH) -> BookletLook:
    """The table card's leaf: the printer's paper on its side."""
    paper = printer_paper(project.ruler.unit)
    return dataclasses.replace(
        booklet_look(project, not_proved=not_proved, language=language),
        width_mm=paper.height.float_mm,
        height_mm=paper.width.float_mm,
    )


def booklet_of(
    measured: Measured,
    proof: Proof,
    told: ToldProof,
    steps: ToldSteps,
    width_mm: float = LIVE_MM[0],
    *,
    places: Mapping[str, tuple[str, ...]] = NOWHERE,
    language: Language = ENGLISH,
) -> Document:
    """The booklet. ``steps`` are drawn for its width, ``width_mm``; ``places`` tell how good a lid's place is."""
    project, lids = measured.project, lids_of(proof, language=language)
    tools = tools_of(project)
    pieces = pieces_of(measured, lids)
    cover = [page for page in steps.finished if page.name.startswith(FINISHED)][-1]
    plans = tuple(
        plan_blocks(piece, tools, language=language)
        for part in measured.parts
        for piece in part.pieces
        if part.part.name not in {lid.name for lid in lids}
    )
    shown, scale = _pieces_pictures(project, pieces, lids, width_mm, language=language)
    return booklet_document(
        ToldBooklet(
            title=project.name,
            by=() if project.maker is None else (language.booklet.by.format(maker=project.maker),),
            summary=(*_summary(measured, lids, language=language), *class_notice(project, language=language)),
            verdict=_verdict(told, language=language),
            verdict_line=told.line.removeprefix(language.told.verdict.line_proved).strip(),
            proved=proof.verdict == "proved",
            revision=language.booklet.revision.format(revision=told.input_hash[:REVISION_CHARACTERS]),
            cover=cover,
            cautions=steps.cautions,
            key=key_page(width_mm, language=language),
            reading=language.booklet.reading,
            pieces=(language.booklet.scale.format(scale=scale), shown),
            needs=(steps.card, *steps.tool_needs),
            cut_rows=_cut_rows(measured, pieces, lids, language=language),
            plans=plans,
            told=steps.pieces,
            holes=tuple(_hole(project, lid, places.get(lid.name, ()), language=language) for lid in lids),
            have=tuple(page for page in steps.finished if page is not cover and not page.name.endswith(SECTION)),
            sizes=_sizes(measured, language=language),
            lids=tuple(lid.rows for lid in told.lids),
            worth_a_look=tuple(
                _worth(finding, language=language) for finding in told.findings if finding.state != "holds"
            ),
            holds=_holds(told),
            granted=tuple(each.words for each in told.assumptions),
            troubles=_troubles(measured, lids, language=language),
            papers=paper_blocks(project, papers_of(measured, lids, language=language), language=language),
            instead=_instead(steps),
            link=project.link or "",
            link_words=language.booklet.link_words,
            made=(language.booklet.copy_paper, language.booklet.made_with.format(program=told.program)),
        ),
        language=language,
    )


def _instead(steps: ToldSteps) -> tuple[tuple[Block, ...], ...]:
    """The table of other shapes, and a page for each."""
    told = steps.instead
    return () if told is None else (alternatives_table(told), *(alternative_blocks(each) for each in told.each))


def class_notice(project: Project, *, language: Language = ENGLISH) -> tuple[str, ...]:
    """What every paper says of a class version; nothing of a full one."""
    return (language.paper.class_version,) if project.teach.version == "class" else ()


def tools_of(project: Project) -> Tools:
    return Tools(board=project.board, ruler=project.ruler, other=project.other_ruler)


def pieces_of(measured: Measured, lids: tuple[LidParts, ...]) -> tuple[MeasuredPiece, ...]:
    """Every piece in the order it is made; those of a turning lid with their holes."""
    by_name = {lid.name: lid.pieces for lid in lids}
    return tuple(piece for part in measured.parts for piece in by_name.get(part.part.name, part.pieces))


def both_units(text: str, other: str, *, language: Language = ENGLISH) -> str:
    return language.report.both.format(first=text, second=other)


def piece_size(project: Project, piece: MeasuredPiece, *, language: Language = ENGLISH) -> tuple[str, str]:
    """A piece's size on the maker's ruler and on the other: how far a layer is across, or both sides."""
    measures = dict(piece.measures)
    if "size" in measures and piece.piece.id not in (TRIANGLE, CAP):
        across = measures["size"].shown
        return in_words(across, project.ruler), in_words(across, project.other_ruler)
    sides = (piece.width.shown, piece.height.shown)
    width, height = (in_words(side, project.other_ruler) for side in sides)
    other = width if width == height else language.report.oblong.format(width=width.rsplit(" ", 1)[0], height=height)
    return size_words(piece.width, piece.height, language=language), other


# --- Words --------------------------------------------------------------------------------------------------


def _summary(measured: Measured, lids: tuple[LidParts, ...], *, language: Language = ENGLISH) -> tuple[str, ...]:
    forms = [form for part in measured.parts for form in part.assembly.forms]
    told = [
        language.booklet.summary_box.format(
            piece=language.term(form.piece.replace("_", " ")).capitalize(), length=row[1], width=row[2], height=row[3]
        )
        for form, row in zip(forms, _sizes(measured, language=language)[::2], strict=True)
    ]
    for lid in lids:
        across = next(dict(piece.measures)["size"].shown for piece in lid.pieces if is_layer(piece.piece.id))
        size = both_units(
            in_words(across, measured.project.ruler), in_words(across, measured.project.other_ruler), language=language
        )
        told.append(
            language.booklet.summary_lid.format(
                across=size, fastener=language.booklet.fasteners[lid.turning.lid.fastener.kind]
            )
        )
        told += _own_shape(lid.values.shape, language=language)
    return (" ".join(told),)


def _own_shape(shape: str | OwnShape, *, language: Language = ENGLISH) -> tuple[str, ...]:
    """A shape of the maker's own: its name, where it came from, and how to do without the die it was cut with."""
    if not isinstance(shape, OwnShape):
        return ()
    words = language.booklet.summary_shape_from if shape.source else language.booklet.summary_shape
    return (words.format(name=shape.name, source=shape.source.rstrip(".")), language.booklet.without_die)


def _sizes(measured: Measured, *, language: Language = ENGLISH) -> tuple[tuple[str, ...], ...]:
    project = measured.project
    return tuple(
        row
        for part in measured.parts
        for row in finished_rows(part.assembly.forms, project.ruler, project.other_ruler, language=language)
    )


def _cut_rows(
    measured: Measured, pieces: tuple[MeasuredPiece, ...], lids: tuple[LidParts, ...], *, language: Language = ENGLISH
) -> tuple[tuple[str, str, str], ...]:
    project, offcuts = measured.project, main_offcuts(measured, lids).told(language=language)
    cards = {key: card for lid in lids for key, (_, card) in layer_cards(lid.values, lid.pieces).items()}
    waste = {(lid.name, piece): lid.host_piece.replace("_", " ") for lid in lids for piece in lid.from_waste}
    rows = []
    for piece in pieces:
        key = (piece.part, piece.piece.id)
        of = (
            language.booklet.from_waste.format(piece=waste[key])
            if key in waste
            else cards.get(key, project.cardstock.name)
        )
        if key in offcuts:
            of = language.booklet.from_offcut.format(card=of, piece=offcuts[key])
        rows.append(
            (
                _name(piece, language=language),
                both_units(*piece_size(project, piece, language=language), language=language),
                of,
            )
        )
    return tuple(rows)


def _name(piece: MeasuredPiece, *, language: Language = ENGLISH) -> str:
    title = piece_title(piece, language=language)
    return title if piece.copies == 1 else language.booklet.copies.format(name=title, count=piece.copies)


def _hole(project: Project, lid: LidParts, place: tuple[str, ...], *, language: Language = ENGLISH) -> HoleWays:
    sizes = fastener_sizes(lid.values, project.unit)
    hole = both_units(in_words(sizes.hole, project.ruler), in_words(sizes.hole, project.other_ruler), language=language)
    steps = tuple(step.format(hole=hole, fastener=language.term(sizes.kind)) for step in language.lid.guide_steps)
    sight = sight_of(project, lid, language=language)
    return HoleWays(
        title=language.booklet.hole,
        ways=(
            (language.booklet.with_guide, steps),
            (
                language.booklet.without_printer,
                hand_lines(lid.turning, project.ruler, project.other_ruler, language=language),
            ),
            *(((language.booklet.by_sight, sight),) if sight else ()),
            *(((language.booklet.how_good, place),) if place else ()),
        ),
    )


def _worth(finding: ToldFinding, *, language: Language = ENGLISH) -> str:
    return language.booklet.worth.format(
        title=finding.title, measured=finding.measured_words, limit=finding.limit_words, why=finding.why
    )


def _holds(told: ToldProof) -> tuple[str, ...]:
    """What holds, each check once; the proof itself tells it of every piece."""
    firsts: dict[str, str] = {}
    for finding in told.findings:
        if finding.state == "holds":
            firsts.setdefault(finding.code, finding.title)
    return tuple(firsts.values())


def _verdict(told: ToldProof, *, language: Language = ENGLISH) -> str:
    return f"{told.headline} {language.told.verdict.line_proved}" if told.verdict == "proved" else told.headline


def _troubles(
    measured: Measured, lids: tuple[LidParts, ...], *, language: Language = ENGLISH
) -> tuple[tuple[str, str], ...]:
    """What can go wrong with what the project has."""
    pieces = [piece.piece for part in measured.parts for piece in part.pieces]
    has = {
        "always": True,
        "inner walls": any(panel.kind == "inner_wall" for piece in pieces for panel in piece.panels),
        "lift-off lid": any(part.assembly.joints for part in measured.parts),
        "turning lid": bool(lids),
        **{kind: any(lid.values.fastener == kind for lid in lids) for kind in KINDS},
    }
    return tuple(row for kind, rows in language.booklet.troubles.items() if has[kind] for row in rows)


# --- Pieces to scale ----------------------------------------------------------------------------------------


def _pieces_pictures(
    project: Project,
    pieces: tuple[MeasuredPiece, ...],
    lids: tuple[LidParts, ...],
    width_mm: float,
    *,
    language: Language = ENGLISH,
) -> tuple[tuple[Page, ...], str]:
    values = {lid.name: lid.values for lid in lids}
    shown = []
    for piece in pieces:
        flat = piece.piece
        size, other = piece_size(project, piece, language=language)
        corners = (
            (0.0, 0.0),
            (flat.blank_width_mm, 0.0),
            (flat.blank_width_mm, flat.blank_height_mm),
            (0.0, flat.blank_height_mm),
        )
        own = values.get(piece.part)
        layer = None if own is None or not is_layer(flat.id) else layer_of(own, flat.id)
        plain = own is not None and (layer is None or layer.colour == own.layers[0].colour)
        shown.append(
            ShownPiece(
                outline=corners if layer is None and flat.id != DISC else flat.panels[0].outline,
                width_mm=flat.blank_width_mm,
                height_mm=flat.blank_height_mm,
                fill="plain" if plain else "coloured",
                name=_name(piece, language=language),
                size=size,
                other=other,
            )
        )
    alts = [language.booklet.piece_alt.format(name=each.name, size=each.size, other=each.other) for each in shown]
    pages, scale = pieces_pages(shown, (width_mm, PIECES_MM), name="pieces", alts=alts, language=language)
    return tuple(
        _with_alt(page, language.booklet.pieces_alt.format(scale=scale, pieces=page.alt)) for page in pages
    ), scale


def _with_alt(page: Page, alt: str) -> Page:
    return Page(name=page.name, width_mm=page.width_mm, height_mm=page.height_mm, marks=page.marks, alt=alt)
