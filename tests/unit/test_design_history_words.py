"""What changed, in a maker's words."""

import dataclasses
from importlib import resources

import pytest

from foldproof.design.history_words import (
    MOST_TOLD,
    ValueChange,
    change_line,
    change_lines,
    changes_between,
    changes_between_texts,
)
from foldproof.outlines.own import OwnShape
from foldproof.project.read import read_project
from foldproof.project.write import with_change

BOX = (resources.files("foldproof") / "examples" / "gale-lid.toml").read_text(encoding="utf-8")
TRAY = (resources.files("foldproof") / "examples" / "shell-tray.toml").read_text(encoding="utf-8")


def told(text, *changes):
    after = text
    for path, value in changes:
        after = with_change(after, path, value)
    return change_lines(changes_between_texts(text, after))


@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        ("parts.tray.wall_height", "2 1/2", "tray: wall height 2 1/4 in → 2 1/2 in"),
        ("parts.tray.wall_height", "60 mm", "tray: wall height 2 1/4 in → 60 mm"),
        ("parts.tray.wall_height", "work out", "tray: wall height 2 1/4 in → to be worked out"),
        ("parts.lid.shape", "star", "lid: shape disc → star"),
        ("parts.lid.closed", 30, "lid: closed tip over the corner → 30"),
        ("parts.lid.layers.2.foam", "1/16", "lid: layer 2 foam 1/8 in → 1/16 in"),
        ("parts.lid.layers.1.across", "4 1/8", "lid: layer 1 across as the lid → 4 1/8 in"),
        ("name", "Summer", "name Gale lid → Summer"),
        ("link", "https://example.org/a", "link: https://example.org/a"),
        ("ruler", "1/8 in", "ruler 1/16 in → 1/8 in"),
        ("cardstock.weight", "270 gsm", "cardstock weight 216 gsm → 270 gsm"),
        ("cardstock.thickness", "0.3 mm", "cardstock thickness 0.27 mm → 0.3 mm"),
        ("cardstock.sheet", "A4", "cardstock sheet 12x12 → A4"),
        ("cardstock.measured", "11 7/8 x 12", "measured sheet: 11 7/8 in x 12 in"),
        ("cardstock.fill", "#000000", "cardstock colour in drawings #b9c2cc → #000000"),
        ("cardstock.name", "rose", "cardstock slate → rose"),
        ("board.stops", "inch quarters", "scoring board inch eighths → inch quarters"),
        ("teach.hand", "left", "hand right → left"),
        ("settings.closure_fail_mm", 2.5, "a join that misses by more does not close 1.6 mm → 2.5 mm"),
        ("extra.notes.a", "b", "notes of your own changed"),
    ],
)
def test_one_value(path, value, line):
    assert told(BOX, (path, value)) == (line,)


def test_a_single_part_needs_no_name():
    assert told(TRAY, ("parts.tray.wall_height", "1 1/2")) == ("wall height 1 1/4 in → 1 1/2 in",)


def test_records_that_come_go_and_change():
    content = (("content.length", "3"), ("content.width", "2"), ("content.height", "1"))
    assert told(BOX, *content) == ("what goes in added",)
    assert told(TRAY, ("papers.sides", "base"), ("papers.print_direction", "upright")) == (
        "papers sides outer walls, base, lid → base",
        "papers with the print upright no → yes",
    )
    without = TRAY[: TRAY.index("[papers]")] + TRAY[TRAY.index("[extra.demo]") :]
    assert change_lines(changes_between_texts(TRAY, without)) == ("papers taken out",)
    bare = TRAY.replace('maker = "Harbour Library reading club"\n', "")
    assert change_lines(changes_between_texts(TRAY, bare)) == ("maker taken out",)


def test_parts_and_layers_that_come_and_go():
    row = '[[parts.lid.layers]]\nacross = "4 1/8"\n\n'
    more = BOX.replace('[[parts.lid.layers]]\nacross = "4"\n', f'{row}[[parts.lid.layers]]\nacross = "4"\n')
    assert change_lines(changes_between_texts(BOX, more)) == ("lid: layer 2 added",)
    assert change_lines(changes_between_texts(more, BOX)) == ("lid: layer 2 taken out",)
    alone = BOX[: BOX.index("[parts.lid]")] + BOX[BOX.index("[extra.demo]") :]
    assert change_lines(changes_between_texts(BOX, alone)) == ("lid taken out",)
    assert change_lines(changes_between_texts(alone, BOX)) == ("lid added",)


def test_a_value_that_follows_another_is_told_once():
    tied = BOX.replace('inner_wall = "1 1/2"\n', "")
    assert told(tied, ("parts.tray.wall_height", "2")) == ("tray: wall height 2 1/4 in → 2 in",)
    assert told(tied, ("parts.tray.inner_wall", "2")) == ("tray: inner wall as wall height → 2 in",)
    # Written out, it is the same today and will not follow tomorrow.
    assert told(tied, ("parts.tray.inner_wall", "2 1/4")) == ("tray: inner wall as wall height → 2 1/4 in",)


def test_a_choice_that_names_another_value():
    assert told(TRAY, ("parts.tray.lid_wall", "1")) == ("lid wall as wall height → 1 in",)


def test_an_estimated_thickness_follows_from_the_weight():
    assert told(TRAY, ("cardstock.weight", "270 gsm")) == ("cardstock weight 216 gsm → 270 gsm",)


def test_another_construction():
    plain = TRAY.replace('construction = "plain tray"', 'construction = "double-wall tray"')
    plain = plain.replace('lid = "from a larger piece"\n', "").replace("lid_ease", "# lid_ease")
    (change, *_) = changes_between_texts(TRAY, plain)
    assert change_line(change) == "construction plain tray → double-wall tray"


def test_two_spellings_are_no_change():
    assert told(BOX, ("parts.tray.wall_height", "2.25 in"), ("cardstock.sheet", "12 x 12")) == ("notes and layout",)
    assert told(BOX) == ("notes and layout",)


def test_lengths_that_would_read_alike_are_told_in_millimetres():
    one = with_change(BOX, "parts.tray.wall_height", "57.14 mm")
    assert told(one, ("parts.tray.wall_height", "57.13 mm")) == ("tray: wall height 57.14 mm → 57.13 mm",)


def test_a_file_this_program_cannot_read_is_compared_as_it_is_written():
    old = BOX.replace("revision = 1", "revision = 99", 1)
    (change,) = changes_between_texts(old, with_change(old, "parts.tray.wall_height", "2 1/2"))
    assert (change.path, change.before, change.after) == ("parts.tray.wall_height", "2 1/4", "2 1/2")
    assert change_line(change) == "parts.tray.wall height 2 1/4 → 2 1/2"


def test_shapes_of_ones_own():
    shape = OwnShape(
        name="leaf",
        outline=((0.0, 0.0), (40.0, 0.0), (20.0, 60.0)),
        fold=1,
        mirror_axes_rad=(),
        landmarks=(),
        accuracy_mm=0.2,
        source="drawn",
        sizes=(),
    )
    before = read_project(BOX)
    with_leaf = dataclasses.replace(before, shapes=(shape,))
    traced = dataclasses.replace(shape, outline=(*shape.outline, (0.0, 30.0)), source="traced")
    assert change_lines(changes_between(before, with_leaf)) == ("shape leaf added",)
    assert change_lines(changes_between(with_leaf, dataclasses.replace(before, shapes=(traced,)))) == (
        "shape leaf points 3 points → 4 points",
        "shape leaf source drawn → traced",
    )


def test_every_setting_and_every_key_has_a_path_in_the_file():
    changes = changes_between_texts(BOX, with_change(with_change(BOX, "cardstock.fill", "#000000"), "unit", "in"))
    assert [change.path for change in changes] == ["cardstock.fill"]
    for path, value in (("settings.finger_mm", 15.0), ("board.stops", "none"), ("parts.lid.layers.3.turned", 9.5)):
        (change,) = changes_between_texts(BOX, with_change(BOX, path, value))
        assert change.path == path and "_" not in change.label
        assert bool(change.help) == (path != "board.stops")


def test_a_long_list_of_changes_is_cut():
    changes = tuple(
        ValueChange(kind="changed", path=f"p{n}", label=f"value {n}", before="1", after="2")
        for n in range(MOST_TOLD + 3)
    )
    lines = change_lines(changes)
    assert len(lines) == MOST_TOLD + 1 and lines[-1] == "and 3 more changes"
