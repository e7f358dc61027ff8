"""Every construction in the catalogue keeps its promises: values have help, range, default; samples build."""

import dataclasses
import importlib
import itertools
import pkgutil

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from foldproof import constructions
from foldproof.constructions.catalogue import CONSTRUCTIONS, construction_named
from foldproof.constructions.parameters import Card, Open, values_of
from foldproof.constructions.record import Construction
from foldproof.errors import InputError
from foldproof.geometry.plane import signed_area
from foldproof.lengths import CM_MILLIMETRES, INCH_SIXTEENTHS, ZERO, Length, length
from foldproof.project.read import read_project
from foldproof.project.write import new_project

# The largest sheet there is: whether a piece fits its sheet is judged later, by the checks.
SIDE = length(2000, "mm")
CARDS = {
    "in": Card(thickness_mm=0.27, sheet_width=SIDE, sheet_height=SIDE, ruler=INCH_SIXTEENTHS),
    "cm": Card(thickness_mm=0.4, sheet_width=SIDE, sheet_height=SIDE, ruler=CM_MILLIMETRES),
}
BY_NAME = pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=lambda each: each.name)
EVERY_VALUE = pytest.mark.parametrize(
    ("construction", "value"),
    [
        pytest.param(each, value, id=f"{each.name}-{value.name}")
        for each in CONSTRUCTIONS
        for value in values_of(each.parameters)
    ],
)


def lengths_needed(construction):
    """The values that have to be given, all at one length that works for every tray."""
    return {value.name: "60 mm" for value in values_of(construction.parameters) if value.default is None}


def read_values(construction, unit, written):
    """The parameter record that reading makes of some written values."""
    return read_project(new_project(construction.name, "a sample", unit, written)).parts[0].values


def assert_builds(construction, values, card):
    """Lays out and builds without error, and what comes out is a piece of card in every panel."""
    layouts = construction.lay_out(values, card)
    assembly = construction.build(values, card, layouts)
    assert [piece.id for piece in assembly.pieces] == [layout.piece for layout in layouts]
    for layout in layouts:
        for positions, side in ((layout.across, layout.width), (layout.up, layout.height)):
            ends = [ZERO, *(position.at for position in positions), side]
            assert ends == sorted(set(ends)), f"{layout.piece}: score lines rise from edge to edge"
    for piece in assembly.pieces:
        for panel in piece.panels:
            assert signed_area(panel.outline) > 0, f"{piece.id}.{panel.id} has an area"


def test_every_construction_of_the_package_is_listed():
    modules = [
        importlib.import_module(f"{constructions.__name__}.{found.name}")
        for found in pkgutil.iter_modules(constructions.__path__)
    ]
    made = {
        each.name for module in modules for each in vars(module).values() if isinstance(each, Construction)
    }
    assert made == {each.name for each in CONSTRUCTIONS}


def test_names_are_told_apart_and_found():
    assert len({each.name for each in CONSTRUCTIONS}) == len(CONSTRUCTIONS)
    assert all(construction_named(each.name) is each for each in CONSTRUCTIONS)
    assert construction_named("no such thing") is None


@BY_NAME
def test_the_record_says_what_it_is(construction):
    assert construction.summary and construction.revision >= 1
    assert dataclasses.is_dataclass(construction.parameters)
    known = {value.name for value in values_of(construction.parameters)}
    for axis in construction.axes:
        assert set(axis.values) <= known


@EVERY_VALUE
def test_a_value_has_help_and_a_range(construction, value):
    assert len(value.help) > 5 and "\n" not in value.help
    if value.kind != "length":
        assert value.choices
        assert value.default == (value.choices[0], value.choices[0])
    if value.kind != "choice":
        assert ZERO <= value.least < value.most


@EVERY_VALUE
@pytest.mark.parametrize("unit", ["in", "cm"])
def test_a_default_reads_and_lies_in_its_range(construction, value, unit):
    if value.default is None:
        # It has to be given: without it the file is refused, with the path.
        written = lengths_needed(construction)
        text = new_project(construction.name, "a sample", unit, written)
        with pytest.raises(InputError) as caught:
            read_project(
                "\n".join(line for line in text.splitlines() if not line.startswith(f"{value.name} ="))
            )
        assert [problem.field for problem in caught.value.problems] == [f"parts.tray.{value.name}"]
        return
    usual = getattr(read_values(construction, unit, lengths_needed(construction)), value.name)
    written = value.default[0 if unit == "in" else 1]
    spelt_out = read_values(construction, unit, lengths_needed(construction) | {value.name: written})
    assert getattr(spelt_out, value.name) == usual
    if isinstance(usual, Length):
        assert value.least <= usual <= value.most
    else:
        assert usual in value.choices


@EVERY_VALUE
def test_a_value_is_left_open_only_where_it_can_be(construction, value):
    written = lengths_needed(construction) | {value.name: "work out"}
    if value.may_be_open:
        assert isinstance(getattr(read_values(construction, "in", written), value.name), Open)
    else:
        with pytest.raises(InputError, match=value.name):
            read_values(construction, "in", written)


@EVERY_VALUE
def test_outside_its_range_a_value_is_refused(construction, value):
    if value.kind == "choice":
        wrong = ["no such choice"]
    else:
        wrong = [f"{float(value.most.mm) + 0.5:.4f} mm", f"{float(value.least.mm) - 0.5:.4f} mm"]
    for text in wrong:
        with pytest.raises(InputError, match=f"parts.tray.{value.name}"):
            read_values(construction, "cm", lengths_needed(construction) | {value.name: text})


@BY_NAME
@pytest.mark.parametrize("unit", ["in", "cm"])
def test_every_choice_builds(construction, unit):
    for value in values_of(construction.parameters):
        for choice in value.choices:
            written = lengths_needed(construction) | {value.name: choice}
            assert_builds(construction, read_values(construction, unit, written), CARDS[unit])


@EVERY_VALUE
def test_the_ends_of_each_range_build_with_every_choice(construction, value):
    """One value at each end of its range; where that contradicts the others, reading says so."""
    ends = () if value.kind == "choice" else (value.least, value.most)
    choices = [(each.name, choice) for each in values_of(construction.parameters) for choice in each.choices]
    for end, (name, choice) in itertools.product(ends, choices):
        written = lengths_needed(construction) | {name: choice, value.name: f"{float(end.mm):.4f} mm"}
        try:
            values = read_values(construction, "cm", written)
        except InputError as error:
            assert all(problem.reason and problem.remedy for problem in error.problems)
            continue
        if name != "piece" or end < SIDE / 5:  # five panels in a row: longer ones are on no sheet
            assert_builds(construction, values, CARDS["cm"])


@st.composite
def written_values(draw, construction):
    """Values as a maker writes them: lengths on the half millimetre over their ranges, and choices."""
    written = {}
    for value in values_of(construction.parameters):
        ways = [st.sampled_from(value.choices)] if value.choices else []
        if value.kind != "choice":
            least, most = int(value.least.mm * 2), min(int(value.most.mm * 2), 400)
            halves = st.one_of(st.integers(least, least + 20), st.integers(least, most))
            ways.append(halves.map(lambda count: f"{count / 2} mm"))
        if value.default is None or draw(st.booleans()):
            written[value.name] = draw(st.one_of(ways))
    return written


@BY_NAME
@settings(max_examples=150)
@given(data=st.data())
def test_samples_over_the_ranges_build(construction, data):
    written = data.draw(written_values(construction))
    try:
        values = read_values(construction, "cm", written)
    except InputError:
        values = None
    assume(values is not None)
    assert_builds(construction, values, CARDS["cm"])


@BY_NAME
def test_conflicts_name_values_that_are_there_and_say_what_works(construction):
    """Inner walls, tabs and reliefs far too large for the smallest tray: every conflict that can be told."""
    written = {}
    for value in values_of(construction.parameters):
        if value.kind != "choice":
            small = value.default is None or value.default[0].startswith("as base")
            written[value.name] = "6 mm" if small else f"{min(float(value.most.mm), 200):.1f} mm"
    with pytest.raises(InputError) as caught:
        read_values(construction, "cm", written)
    known = {f"parts.tray.{value.name}" for value in values_of(construction.parameters)}
    for problem in caught.value.problems:
        assert problem.field in known
        assert problem.reason and problem.remedy
