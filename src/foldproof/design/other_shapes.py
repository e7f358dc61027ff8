"""Other shapes for a lid: of every formula the smallest on the ruler that covers, with its best hole, proved."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass

from foldproof.checks.proof import AlternativeProof, Verdict
from foldproof.constructions.alternative_lid import other_lid
from foldproof.constructions.parameters import Open
from foldproof.constructions.turning_lid import AS_DRAWN, DIP, TIP, TurningLidValues, conflicts
from foldproof.design.alternatives import with_only
from foldproof.design.class_version import as_taught
from foldproof.design.fit import fit
from foldproof.design.fit_alternatives import fit_alternative, with_answers
from foldproof.design.fit_report import exact_text
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.errors import wrong
from foldproof.lengths import Length
from foldproof.lids.records import LidAnalysis
from foldproof.outlines.catalogue import FORMULAS
from foldproof.progress import Progress, Stopped
from foldproof.project.read import read_project
from foldproof.project.records import Alternative, Part, Project
from foldproof.project.syntax import key_text, quoted

STAGE = "fit"
WAYS = (TIP, DIP, AS_DRAWN)  # how a shape is laid on the box while it is tried
SECOND = "{shape} for {of}"


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherShape:
    """One formula instead of the lid ``of``: as it was found, what it does, and its verdict on the box.

    ``alternative``, ``analysis`` and ``verdict`` are None where no size covers, or the hole has no place.
    """

    of: str
    shape: str
    alternative: Alternative | None
    analysis: LidAnalysis | None
    verdict: Verdict | None

    @property
    def proved(self) -> bool:
        return self.verdict == "proved"


def other_shapes(project: Project, progress: Progress) -> tuple[OtherShape, ...]:
    """For each turning lid of the project every formula but its own, the smallest first; those that fail last.

    Raises InputError when there is no such lid, or its size or its box is still open; Stopped when the caller stops.
    """
    project = dataclasses.replace(as_taught(project), alternatives=())
    lids = tuple(part for part in project.parts if isinstance(part.values, TurningLidValues))
    if not lids:
        raise wrong("parts", "", "there is no turning lid whose shape could be another", "add one on your tray")
    for part in project.parts:
        if part.open_values:
            raise wrong(f"parts.{part.name}", ", ".join(part.open_values), "is open", "run `foldproof fit` first")
    found: list[OtherShape] = []
    for lid in lids:
        names = [formula.name for formula in FORMULAS if formula.name != lid.values.shape]
        some = []
        for number, name in enumerate(names):
            if not progress(STAGE, number, len(names)):
                raise Stopped
            some.append(_other(project, lid, name, SECOND.format(shape=name, of=lid.name) if len(lids) > 1 else name))
        found += sorted(some, key=_merit)
    return tuple(found)


def _merit(found: OtherShape) -> tuple[bool, bool, float]:
    size = found.alternative.part.values.across.float_mm if found.alternative is not None else 0.0
    return (not found.proved, found.alternative is None, size)


def _other(project: Project, lid: Part, shape: str, name: str) -> OtherShape:
    """One formula: the smallest that covers and has a place for the hole; of these the one that opens most."""
    sized = [(closed, fit(project, _open(project, lid, shape, name, closed, ("across",)).part)) for closed in WAYS]
    works = [(dict(answer.answers[0].values)["across"], closed) for closed, answer in sized if answer.works]
    for size in sorted({size for size, _ in works}, key=_in_mm):
        alike = (_with_hole(project, lid, shape, name, closed) for each, closed in works if each == size)
        found = [other for other in alike if other.analysis is not None]
        if found:
            return max(found, key=_opens)
    return OtherShape(of=lid.name, shape=shape, alternative=None, analysis=None, verdict=None)


def _in_mm(size: Length | float) -> float:
    return size.float_mm if isinstance(size, Length) else size


def _opens(other: OtherShape) -> float:
    assert other.analysis is not None, "only what was found is compared"
    return round(other.analysis.opened.uncovered, 3)


def _with_hole(project: Project, lid: Part, shape: str, name: str, closed: str) -> OtherShape:
    """One formula laid one way, its size and its hole worked out, proved on the box."""
    nothing = OtherShape(of=lid.name, shape=shape, alternative=None, analysis=None, verdict=None)
    start = _open(project, lid, shape, name, closed, ("across", "hole_from_corner"))
    answer = fit_alternative(project, start)
    if not answer.works:
        return nothing
    done = with_answers(dataclasses.replace(project, alternatives=(start,)), (answer,)).alternatives[0]
    if conflicts(done.part.values):
        return nothing
    proof = _proved(project, done)
    turning = proof.part.evidence.turning
    assert turning is not None, "an alternative is a turning lid"
    return OtherShape(of=lid.name, shape=shape, alternative=done, analysis=turning.analysis, verdict=proof.verdict)


def _open(project: Project, lid: Part, shape: str, name: str, closed: str, open_values: tuple[str, ...]) -> Alternative:
    """The lid in another shape, some values left open."""
    given = {"shape": shape, "closed": closed, **{each: Open() for each in open_values}}
    values = other_lid(lid.values, given, project.ruler)
    return Alternative(
        of=lid.name,
        part=dataclasses.replace(lid, name=name, values=values, open_values=open_values),
        keeps_shares=True,
    )


def _proved(project: Project, alternative: Alternative) -> AlternativeProof:
    alone = with_only(dataclasses.replace(project, alternatives=(alternative,)), alternative.name)
    return prove(measure(alone)).alternatives[0]


# --- As a maker types it ------------------------------------------------------------------------------------


def toml_lines(project: Project, other: OtherShape) -> Iterator[str]:
    """The table of one alternative, to paste into the project's file; nothing for one that was not found."""
    if other.alternative is None:
        return
    part = other.alternative.part
    main = next(each for each in project.parts if each.name == other.of)
    lids = [each for each in project.parts if isinstance(each.values, TurningLidValues)]
    yield f"[alternatives.{key_text(part.name)}]"
    if len(lids) > 1:
        yield f"of = {quoted(other.of)}"
    yield f"shape = {quoted(other.shape)}"
    for name in ("across", "hole_from_corner"):
        size = getattr(part.values, name)
        assert isinstance(size, Length), "what was open has been worked out"
        yield f"{name} = {quoted(exact_text(size, project))}"
    if part.values.closed != main.values.closed:
        yield f"closed = {quoted(part.values.closed)}"


def with_other_shapes(text: str, project: Project, others: tuple[OtherShape, ...]) -> tuple[str, tuple[str, ...]]:
    """The project's file with the proved ones at its end, and their names; comments and layout of the rest stay.

    Shapes that the file has an alternative or a part of the same name for are left out. Raises InputError when the
    file would have a problem with them.
    """
    names = (*(part.name for part in project.parts), *(each.name for each in project.alternatives))
    taken = {name.casefold() for name in names}
    added = [
        other
        for other in others
        if other.proved and other.alternative is not None and other.alternative.name.casefold() not in taken
    ]
    if not added:
        return text, ()
    tables = ["\n".join(toml_lines(project, other)) for other in added]
    written = "\n\n".join((text.rstrip(), *tables)) + "\n"
    read_project(written)
    return written, tuple(other.alternative.name for other in added if other.alternative is not None)
