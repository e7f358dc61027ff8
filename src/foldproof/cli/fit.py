"""``foldproof fit FILE``."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

import click

from foldproof.cli.options import as_json, project_file, shelf_option
from foldproof.cli.output import DONE, NOT_PROVED, STOPPED, note, note_unreadable, print_document, print_report
from foldproof.cli.watch import Watch
from foldproof.errors import wrong

if TYPE_CHECKING:
    from foldproof.design.fit_answers import FitAnswer, Goal
    from foldproof.project.records import Project
    from foldproof.service.projects import Opened

SHAPES = "shapes that cover"
OTHERS = "other shapes"
BASES = ("largest base", "smallest piece", "hold the content", "whole sheet")
PLACES = ("best hole", "least turn", "hole far from the edge", "smallest lid")
GOALS = (*BASES, *PLACES, SHAPES, OTHERS)


@click.command()
@project_file
@click.option("--goal", type=click.Choice(GOALS), help="What to look for. Without it, the file decides.")
@click.option("--write", is_flag=True, help="Put the best values into FILE. Its comments stay.")
@shelf_option
@as_json
def fit(file: str, goal: str | None, write: bool, shelf: str | None, as_json: bool) -> int:
    """Works out the values left open, on the grooves of your board.

    Write "work out" for a value to leave it open. When nothing works, the nearest that does is shown. The goal "shapes
    that cover" looks which shapes of your own, in FILE and on your shelf, cover the box. "other shapes" proves the
    lid in every other shape by formula, for people without its die; --write puts those under [alternatives].
    """
    from foldproof.design.fit_report import fit_document, fit_report
    from foldproof.service.projects import fit_parts, open_project, verdict_filled, write_fitted

    opened = open_project(file)
    if goal == SHAPES:
        if write:
            raise wrong("--write", goal, "cannot be written: which shape to take is for you", "leave --write out")
        return _shapes(opened.project, shelf, as_json)
    if goal == OTHERS:
        return _others(opened, write, as_json)
    with Watch() as watch:
        at_once = _AtOnce(opened.project)
        answers = fit_parts(opened.project, cast("Goal | None", goal), watch, None if as_json else at_once)
        verdict = verdict_filled(opened.project, answers, watch)
    works = all(answer.works for answer in answers)
    written = write and works and not watch.stopped and write_fitted(opened, answers)
    if as_json:
        print_report(fit_report(opened.project, answers, verdict, file if written else None, watch.stopped))
    else:
        print_document(fit_document(opened.project, answers, verdict))
    if write and not as_json:
        note(f"The best values are in {file}." if written else f"{file} was left as it is.")
    if watch.stopped:
        return STOPPED
    return DONE if works and verdict == "proved" else NOT_PROVED


class _AtOnce:
    """Tells the first answer about a lid's place, when its proof is still to come."""

    def __init__(self, project: Project) -> None:
        self._project = project
        self._told: set[str] = set()

    def __call__(self, answer: FitAnswer) -> None:
        from foldproof.design.fit_report import found_words
        from foldproof.words.catalogue import ENGLISH

        proof = None if answer.place is None else answer.place.certificate
        over = proof is not None and (proof.finished or proof.stopped)
        if answer.part not in self._told and answer.answers and not over:
            note(ENGLISH.fit.at_once.format(values=found_words(self._project, answer, answer.answers[0])))
        self._told.add(answer.part)


def _others(opened: Opened, write: bool, as_json: bool) -> int:
    """The lid in other shapes: 0 when one at least is proved."""
    from foldproof.design.other_shapes import other_shapes
    from foldproof.design.other_shapes_report import other_shapes_document, other_shapes_report, pasted_text
    from foldproof.service.projects import write_other_shapes
    from foldproof.words.catalogue import ENGLISH

    with Watch() as watch:
        found = other_shapes(opened.project, watch)
    written = write_other_shapes(opened, found) if write else ()
    proved = any(other.proved for other in found)
    if as_json:
        print_report(other_shapes_report(opened.project, found, written))
    else:
        print_document(other_shapes_document(opened.project, found, written))
        if write and not written:
            note(f"{opened.path} was left as it is.")
        elif proved and not write:
            click.echo(f"\n{ENGLISH.alternatives.others_paste}\n\n{pasted_text(opened.project, found)}")
    return DONE if proved else NOT_PROVED


def _shapes(project: Project, shelf: str | None, as_json: bool) -> int:
    """Which shapes cover the box: 0 when one does."""
    from foldproof.design.fit_shapes import fit_shapes
    from foldproof.design.shapes_report import shapes_document, shapes_report
    from foldproof.service.shelf import shelf_at, shelf_folder

    found = shelf_at(shelf_folder(shelf))
    unreadable = tuple((each.file, each.reason) for each in found.unreadable)
    with Watch() as watch:
        answers = fit_shapes(project, tuple(each.shape for each in found.shapes), watch)
    if as_json:
        print_report(shapes_report(project, answers, unreadable))
    else:
        print_document(shapes_document(project, answers))
        note_unreadable(unreadable)
    covered = all(any(shape.best.covers for shape in answer.shapes) for answer in answers)
    return DONE if covered else NOT_PROVED
