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
from foldproof.project.read_parts import host_value
from foldproof.project.write import new_project

# The largest sheet there is: whether a piece fits its sheet is judged later, by the checks.
SIDE = length(2000, "mm")
CARDS = {
    "in": Card(thickness_mm=0.27, sheet_width=SIDE, sheet_height=SIDE, ruler=INCH_SIXTEENTHS),
    "cm": Card(thickness_mm=0.4, sheet_width=SIDE, sheet_height=SIDE, ruler=CM_MILLIMETRES),
}
BY_NAME = pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=lambda each: each.name)


def paths_of(construction):
    """Every value with its path from the part: those in a list by the second record, ``layers.2.across``."""
    for value in values_of(construction.parameters):
        yield value.name, value
        if value.kind == "list":
            yield from ((f"{value.name}.2.{each.name}", each) for each in values_of(value.record))


def every_value(*kinds):
    """A test for each value of each construction, of some kinds or of all."""
    return pytest.mark.parametrize(
        ("construction", "path", "value"),
        [
            pytest.param(each, path, value, id=f"{each.name}-{path}")
            for each in CONSTRUCTIONS
            for path, value in paths_of(each)
            if not kinds or value.kind in kinds
        ],
    )


LENGTHS = ("length", "length_or_choice")
NUMBERS = ("count", "angle")
WITH_CHOICES = ("choice", "length_or_choice", "count", "angle", "shape")


def part_of(construction):
    """The name of the part that a new project has of a construction."""
    return "tray" if host_value(construction) is None else "lid"


def lengths_needed(construction):
    """The values that have to be given, all at one length that works, and a height for edges that are shaped."""
    needed = {}
    for path, value in paths_of(construction):
        if value.kind == "length" and value.default is None:
            needed[path] = "90 mm"
        elif path.endswith(".edge_by"):
            needed[path] = "3 mm"
    return needed


def read_part(construction, unit, written):
    """The part that reading makes of some written values by path."""
    return read_project(new_project(construction.name, "a sample", unit, written)).parts[-1]


def read_values(construction, unit, written):
    """The parameter record that reading makes of some written values by path."""
    return read_part(construction, unit, written).values


def value_at(values, path):
    """The value at a path of a parameter record."""
    for key in path.split("."):
        values = values[int(key) - 1] if key.isdecimal() else getattr(values, key)
    return values


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


@every_value()
def test_a_value_has_help_and_a_range(construction, path, value):
    assert len(value.help) > 5 and "\n" not in value.help
    if value.kind in WITH_CHOICES:
        assert value.choices
        assert value.default == (value.choices[0], value.choices[0])
    if value.kind in LENGTHS:
        assert value.least < value.most
    if value.kind in NUMBERS:
        assert value.fewest < value.top
    if value.kind == "list":
        assert 1 <= value.fewest <= len(value.usual_records) <= value.top
        usual = value_at(read_values(construction, "in", lengths_needed(construction)), path)
        assert len(usual) == len(value.usual_records)


@every_value()
@pytest.mark.parametrize("unit", ["in", "cm"])
def test_a_default_reads_and_lies_in_its_range(construction, path, value, unit):
    needed = lengths_needed(construction)
    if value.default is None:
        # It has to be given: without it the file is refused, with the path.
        text = new_project(construction.name, "a sample", unit, needed)
        start = text.index(f"[[parts.lid.{path}]]") if value.kind == "list" else text.index(f"\n{path} = ") + 1
        end = text.index("# [content]") if value.kind == "list" else text.index("\n", start)
        with pytest.raises(InputError) as caught:
            read_project(text[:start] + text[end:])
        (problem,) = caught.value.problems
        assert (problem.field, problem.reason) == (f"parts.{part_of(construction)}.{path}", "is missing")
        return
    needed.pop(path, None)
    # A new project writes out some keys of its lists: here they are left out.
    key = path.rpartition(".")[2]
    before, heading, lists = new_project(construction.name, "a sample", unit, needed).partition("[[")
    left_out = before + heading + lists.replace(f"\n{key} = ", f"\n# {key} = ")
    usual = value_at(read_project(left_out).parts[-1].values, path)
    written = value.default[0 if unit == "in" else 1]
    spelt_out = read_values(construction, unit, needed | {path: written})
    assert value_at(spelt_out, path) == usual
    if isinstance(usual, Length):
        assert value.least <= usual <= value.most
    else:
        assert usual in value.choices or (value.kind == "text" and usual == written)


@every_value(*LENGTHS, *NUMBERS, "choice", "shape", "text", "list")
def test_a_value_is_left_open_only_where_it_can_be(construction, path, value):
    written = lengths_needed(construction) | {path: "work out"}
    if value.may_be_open:
        part = read_part(construction, "in", written)
        assert isinstance(value_at(part.values, path), Open) and path in part.open_values
    else:
        with pytest.raises(InputError, match=path):
            read_values(construction, "in", written)


@every_value(*LENGTHS, *NUMBERS, "choice", "shape", "text")
def test_outside_its_range_a_value_is_refused(construction, path, value):
    if value.kind in ("choice", "shape"):
        wrong = ["no such choice"]
    elif value.kind == "text":
        wrong = ["", "x" * 41, "two\nlines"] + ["red", "#12345", "#12345g"] * (value.form == "colour")
    elif value.kind in NUMBERS:
        wrong = [str(int(value.top) + 1), str(int(value.fewest) - 1), "several"] + ["7.5"] * (value.kind == "count")
    else:
        wrong = [f"{float(value.most.mm) + 0.5:.4f} mm", f"{float(value.least.mm) - 0.5:.4f} mm"]
    for text in wrong:
        with pytest.raises(InputError) as caught:
            read_values(construction, "cm", lengths_needed(construction) | {path: text})
        (problem,) = {problem.field: problem for problem in caught.value.problems}.values()
        assert problem.field == f"parts.{part_of(construction)}.{path}"
        assert problem.reason and problem.remedy


@BY_NAME
@pytest.mark.parametrize("unit", ["in", "cm"])
def test_every_choice_builds(construction, unit):
    for path, value in paths_of(construction):
        for choice in value.choices:
            written = lengths_needed(construction) | {path: choice}
            assert_builds(construction, read_values(construction, unit, written), CARDS[unit])


@every_value(*LENGTHS, *NUMBERS)
def test_the_ends_of_each_range_build_with_every_choice(construction, path, value):
    """One value at each end of its range; where that contradicts the others, reading says so."""
    if value.kind in NUMBERS:
        ends = (f"{value.fewest:g}", f"{value.top:g}")
    else:
        ends = (f"{float(value.least.mm):.4f} mm", f"{float(value.most.mm):.4f} mm")
    choices = [(each, choice) for each, one in paths_of(construction) for choice in one.choices if each != path]
    for end, (name, choice) in itertools.product(ends, choices):
        try:
            values = read_values(construction, "cm", lengths_needed(construction) | {name: choice, path: end})
        except InputError as error:
            assert all(problem.reason and problem.remedy for problem in error.problems)
            continue
        # Five panels in a row: longer ones are on no sheet.
        if name != "piece" or value.kind in NUMBERS or value_at(values, path) < SIDE / 5:
            assert_builds(construction, values, CARDS["cm"])


def ways_to_write(value):
    """A value as a maker writes it: lengths on the half millimetre over their range, numbers, words, choices."""
    ways = [st.sampled_from(value.choices)] if value.choices else []
    if value.kind in LENGTHS:
        least, most = int(value.least.mm * 2), min(int(value.most.mm * 2), 400)
        halves = st.one_of(st.integers(least, least + 20), st.integers(least, most))
        ways.append(halves.map(lambda count: f"{count / 2} mm"))
    elif value.kind in NUMBERS:
        ways.append(st.integers(int(value.fewest), int(value.top)).map(str))
    elif value.kind == "text":
        words = st.text("abcdefghijklmnopqrstuvwxyz", min_size=1, max_size=40)
        ways.append(st.from_regex(r"#[0-9a-fA-F]{6}", fullmatch=True) if value.form == "colour" else words)
    return st.one_of(ways)


@st.composite
def written_values(draw, construction):
    """Some values by path, and all that have to be given."""
    written = {}
    for path, value in paths_of(construction):
        given = value.default is None or draw(st.booleans())
        if given and value.kind not in ("part", "list"):
            written[path] = draw(ways_to_write(value))
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
    """Walls, tabs, layers and triangles far too large for the smallest of its kind: every conflict that can be told."""
    written = {}
    for path, value in paths_of(construction):
        if value.kind in LENGTHS:
            small = value.default is None or value.default[0].startswith("as base")
            written[path] = "12 mm" if small else f"{min(float(value.most.mm), 200):.1f} mm"
    with pytest.raises(InputError) as caught:
        read_values(construction, "cm", written)
    known = {f"parts.{part_of(construction)}.{path}" for path, _ in paths_of(construction)}
    for problem in caught.value.problems:
        assert problem.field in known
        assert problem.reason and problem.remedy
