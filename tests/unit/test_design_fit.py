"""Fit finds what is there: on either way of the sheet, on uneven stops, under any lid, and the smallest lid."""

import dataclasses
import math

import numpy as np
import pytest

from foldproof.checks.turning_evidence import box_of
from foldproof.constructions.turning_lid import closed_shift, lid_shape, placed_outline, turned_rad
from foldproof.design.fit import filled, fit, needed_for_content
from foldproof.design.fit_answers import FitAnswer, Goal
from foldproof.design.fit_lid import smallest_lid
from foldproof.design.measure import measure, measure_part
from foldproof.geometry.cover import cover_margin
from foldproof.lengths import ZERO
from foldproof.project.read import read_project
from foldproof.project.records import Part, Project

DISC = {"shape": "disc", "across": "6 in"}


def project_of(
    tray: dict[str, str],
    *,
    construction: str = "double-wall tray",
    unit: str = "in",
    sheet: str = "12x12",
    board: str = '"inch eighths"',
    lid: dict[str, str] | None = None,
    content: str = "",
) -> Project:
    text = f'format = 1\nname = "A"\nunit = "{unit}"\n[cardstock]\nsheet = "{sheet}"\nweight = "176 gsm"\n'
    text += f'thickness = "0.27 mm"\n[board]\nstops = {board}\n[parts.tray]\nconstruction = "{construction}"\n'
    text += "".join(f'{name} = "{value}"\n' for name, value in tray.items())
    if lid is not None:
        every = {"strip": "1 in", "hole_from_corner": "1/2 in", **lid}
        text += '[parts.lid]\nconstruction = "turning lid"\non = "tray"\n'
        text += "".join(f'{name} = "{value}"\n' for name, value in every.items()) + "[[parts.lid.layers]]\n"
    return read_project(text + content)


def part_of(project: Project, name: str) -> Part:
    return next(part for part in project.parts if part.name == name)


def fitted(project: Project, name: str = "tray", goal: Goal | None = None) -> FitAnswer:
    return fit(project, part_of(project, name), goal)


def best(answer: FitAnswer) -> dict[str, float]:
    return {name: value.float_mm for name, value in answer.answers[0].values}


A4 = {"unit": "cm", "sheet": "A4", "board": '"half centimetres"'}


def test_a_base_beside_a_given_width_may_lie_along_the_longer_side_of_the_sheet():
    tray = {"base_length": "work out", "base_width": "8", "wall_height": "3.5", "inner_wall": "3"}
    answer = fitted(project_of(tray, **A4))
    assert answer.works and best(answer) == {"base_length": 165.0}  # 29.7 cm less 13 cm, on half centimetres
    assert min(answer.answers[0].spare_width, answer.answers[0].spare_height) >= ZERO


def test_content_that_goes_only_across_the_sheet_is_held():
    tray = {"base_length": "work out", "base_width": "work out", "wall_height": "4"}
    content = "[content]\nlength = 19\nwidth = 6\nheight = 3\nease = 0.5\n"
    answer = fitted(project_of(tray, construction="plain tray", content=content, **A4))
    assert answer.works and best(answer) == {"base_length": 200.0, "base_width": 70.0}


def test_a_piece_that_fits_turned_is_not_too_large():
    tray = {"base_length": "20", "base_width": "8", "wall_height": "4"}
    answer = fitted(project_of(tray, construction="plain tray", **A4))
    assert answer.works
    spare = (answer.answers[0].spare_width.float_mm, answer.answers[0].spare_height.float_mm)
    assert spare == (17.0, 50.0)
    longer = fitted(project_of({**tray, "base_length": "22"}, construction="plain tray", **A4))
    assert not longer.works and longer.short.float_mm == 3.0


@pytest.mark.parametrize("piece", ["cut to size", "whole sheet"])
def test_on_uneven_stops_a_wall_lies_between_any_two_of_them(piece):
    """21 cm scored at 3, 6.5, 14.5, 18 is a base of 8 and walls of 3.5, which is no stop of that board."""
    tray = dict.fromkeys(("base_length", "base_width", "wall_height", "inner_wall"), "work out") | {"piece": piece}
    answer = fitted(project_of(tray, unit="cm", sheet="21 x 21", board="[3, 6.5, 14.5, 18]"))
    assert answer.works
    assert best(answer) == {"base_length": 80.0, "base_width": 80.0, "wall_height": 35.0, "inner_wall": 30.0}


def test_the_largest_base_beside_a_given_width_is_all_that_the_lid_covers():
    """A 6 in disc with its margin of 1/8 in covers a rim whose moved corners lie 3 in from its middle."""
    tray = {"base_length": "work out", "base_width": "3", "wall_height": "2", "inner_wall": "1 1/2"}
    project = project_of(tray, lid=DISC)
    card = project.cardstock.thickness.high_mm
    moved_width = 0.5 * (3 * 25.4 + card) + project.checks.cover_look_mm
    most = 2.0 * (math.sqrt(76.2**2 - moved_width**2) - project.checks.cover_look_mm) - card
    found = best(fitted(project))["base_length"]
    assert most - 25.4 / 8 < found <= most


def test_a_long_content_under_a_wide_lid_needs_no_square():
    tray = {"base_length": "work out", "base_width": "work out", "wall_height": "2", "inner_wall": "1 1/2"}
    content = '[content]\nlength = "4 1/2"\nwidth = "2"\nheight = "1 1/2"\nease = "0"\n'
    assert fitted(project_of(tray, lid=DISC, content=content)).works
    assert not fitted(project_of(tray, lid={**DISC, "across": "5 in"}, content=content)).works


def test_content_goes_into_what_is_clear_inside():
    """The least base for a content leaves just its room inside, as the measured box says."""
    content = '[content]\nlength = "3"\nwidth = "2"\nheight = "1"\nease = "1/8"\n'
    for tab in ("to meet its neighbour", "as long as the wall is tall"):
        tray = {"base_length": "3 1/2", "base_width": "2 1/2", "wall_height": "2", "inner_wall": "1", "tab_length": tab}
        project = project_of(tray, content=content)
        part = part_of(project, "tray")
        need, _ = needed_for_content(project, part)
        values = dataclasses.replace(part.values, base_length=need[0], base_width=need[1])
        designed = measure_part(project, dataclasses.replace(part, values=values)).designed
        assert designed.forms[0].inner_mm == pytest.approx((3.125 * 25.4, 2.125 * 25.4), abs=1e-3)


@pytest.mark.parametrize("shape", ["heart", "star", "rosette"])
def test_the_smallest_lid_whose_place_is_open_is_judged_at_its_best_place(shape):
    tray = {"base_length": "3 1/4", "wall_height": "2", "inner_wall": "1 1/2"}
    moved = dict.fromkeys(("across", "moved_right", "moved_back"), "work out")
    project = project_of(tray, lid={"shape": shape, **moved})
    lid, host = part_of(project, "lid"), measure_part(project, part_of(project, "tray")).assembly
    centred = project_of(tray, lid={"shape": shape, "across": "work out"})
    found = smallest_lid(project, lid, host)
    size = found.size
    assert found.short == ZERO
    assert size <= smallest_lid(centred, part_of(centred, "lid"), host).size
    assert found.bound.finished and size.float_mm - 6.0 < found.bound.bound_mm < size.float_mm
    full = filled(lid, fit(project, lid).answers[0])
    assert full.values.across == size
    box = box_of(project, full.values, host)
    drawn = lid_shape(full.values, size.float_mm)
    outline = np.asarray(placed_outline(drawn, turned_rad(full.values, drawn, (-1.0, 1.0)), closed_shift(full.values)))
    assert cover_margin(outline, np.asarray(box.rim)) >= project.checks.cover_look_mm
    # One mark smaller, no place on a finer grid than the search's covers with comfort.
    less = lid_shape(full.values, (size - project.ruler.step_length).float_mm)
    around = np.asarray(placed_outline(less, turned_rad(full.values, less, (-1.0, 1.0))))
    steps = np.arange(-40.0, 40.5, 2.0)
    tried = [cover_margin(around + np.array([x, y]), np.asarray(box.rim)) for x in steps for y in steps]
    assert max(tried) < project.checks.cover_look_mm + 0.5


def test_the_smallest_lid_of_a_long_box_may_be_less_across_than_the_box_is_long():
    """A square lid lies best across a long box, corner over end; one mark less covers nowhere, which is proved."""
    tray = {"base_length": "5", "base_width": "1 1/2", "wall_height": "1", "inner_wall": "3/4"}
    lid = {"shape": "square", "strip": "3/4 in", "across": "work out", "closed": "work out"}
    project = project_of(tray, lid=lid)
    found = smallest_lid(project, part_of(project, "lid"), measure_part(project, part_of(project, "tray")).assembly)
    assert found.placed == {"closed": 45.0} and found.bound.finished
    # Turned by 45 degrees the lid holds all with |x| + |y| up to its side over the root of 2.
    card, margin = project.cardstock.thickness.high_mm, project.checks.cover_look_mm
    least = (0.5 * (5.0 + 1.5) * 25.4 + card + 2.0 * margin) * math.sqrt(2.0)
    assert found.bound.bound_mm < least <= found.size.float_mm < least + 2.0 * project.ruler.step_length.float_mm


def test_nothing_is_proved_of_a_longest_base_whose_lid_turns_with_it():
    """A tip over the corner of a longer box is another turn, which may cover again what a shorter one did not."""
    tray = {"base_length": "work out", "base_width": "2", "wall_height": "1", "inner_wall": "3/4"}
    for closed, proved in (("tip over the corner", False), ("20", True)):
        lid = {"shape": "heart", "across": "6", "strip": "3/4 in", "closed": closed}
        answer = fitted(project_of(tray, lid=lid))
        assert answer.works and (answer.size.bound_mm is not None) == answer.size.finished == proved


def test_nothing_is_proved_of_a_lid_that_lies_beside_its_box():
    """Its own middle is not over the rim, so a larger one need not cover what a smaller one does."""
    tray = {"base_length": "3", "wall_height": "1", "inner_wall": "3/4"}
    for moved, proved in (("1", True), ("1 3/4", False)):
        project = project_of(tray, lid={"shape": "disc", "across": "work out", "moved_right": moved})
        host = measure_part(project, part_of(project, "tray")).assembly
        found = smallest_lid(project, part_of(project, "lid"), host)
        assert found.short == ZERO and (found.bound.bound_mm is not None) == proved


def test_a_fitted_tray_measures():
    tray = {"base_length": "work out", "base_width": "8", "wall_height": "3.5", "inner_wall": "3"}
    project = project_of(tray, **A4)
    part = project.parts[0]
    full = dataclasses.replace(project, parts=(filled(part, fit(project, part).answers[0]),))
    assert measure(full).parts[0].pieces[0].width.shown.float_mm == 295.0
