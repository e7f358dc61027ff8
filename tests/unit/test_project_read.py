"""Reading a project file: what it means, and everything that is wrong with it told at once."""

from fractions import Fraction

import pytest

from foldproof.constructions.parameters import Open
from foldproof.errors import InputError
from foldproof.lengths import (
    CM_HALF_MILLIMETRES,
    CM_MILLIMETRES,
    INCH_EIGHTHS,
    INCH_SIXTEENTHS,
    length,
)
from foldproof.project.read import read_project

HEAD = 'format = 1\nname = "Shells"\nunit = "in"\n'
CARD = '[cardstock]\nsheet = "12x12"\nweight = "216 gsm"\n'
TRAY = '[parts.tray]\nconstruction = "double-wall tray"\nbase_length = "3 1/4"\nwall_height = "2 1/4"\n'
GOOD = HEAD + CARD + TRAY
METRIC = GOOD.replace('"in"', '"cm"').replace('"3 1/4"', "8").replace('"2 1/4"', "3.5")


def problems(text):
    """Everything that is wrong with a text, by path."""
    with pytest.raises(InputError) as caught:
        read_project(text)
    return {problem.field: problem for problem in caught.value.problems}


def only(text):
    """The one thing that is wrong with a text."""
    (problem,) = problems(text).values()
    return problem


def part_values(text):
    """The values of the only part."""
    return read_project(text).parts[0].values


def test_a_short_file_is_filled_in():
    project = read_project(GOOD)
    assert (project.format, project.name, project.maker, project.unit) == (1, "Shells", None, "in")
    assert (project.ruler, project.other_ruler) == (INCH_SIXTEENTHS, CM_MILLIMETRES)
    assert project.board.name == "inch eighths"
    assert project.cardstock.thickness.how == "estimated"
    assert project.content is None and project.extra == ()
    (part,) = project.parts
    assert (part.name, part.construction.name, part.revision) == ("tray", "double-wall tray", 1)
    assert part.open_values == ()
    assert part.values.relief == length(Fraction(1, 16), "in")
    assert part.values.tab_length == "to meet its neighbour"


def test_a_metric_file_has_metric_ruler_board_and_usual_values():
    project = read_project(METRIC)
    assert (project.ruler, project.other_ruler) == (CM_MILLIMETRES, INCH_SIXTEENTHS)
    assert project.board.name == "half centimetres"
    assert project.parts[0].values.base_length == length(80, "mm")
    assert project.parts[0].values.relief == length(2, "mm")


def test_everything_a_file_can_say():
    project = read_project(
        HEAD
        + 'maker = "A club"\nruler = "1/8"\n'
        + CARD.replace("216 gsm", "80 lb cover")
        + 'name = "sand"\nmeasured = "11 7/8 x 12"\nthickness = "0.27 mm +/- 0.02"\ncore = "White"\n'
        + 'printed = "one side"\ngrain = "along width"\nprint_direction = "along height"\nfill = "#ECDFC4"\n'
        + "[board]\nstops = [1, '2 1/2', 4.5]\n"
        + TRAY
        + '[content]\nlength = 2\nwidth = "1 1/2"\nheight = "1 in"\nease = "1/4"\n'
        + "[settings]\nclosure_fail_mm = 1.2\nfinger_mm = 14\n"
        + "[extra.shop]\nprice = 12.5\ntags = ['a', 'b']\n[extra.more]\nwhen = 2024-05-01\n"
    )
    assert project.maker == "A club" and project.ruler == INCH_EIGHTHS
    card = project.cardstock
    assert card.usable_sheet.width == length("11.875", "in") and card.sheet.name == "12x12"
    assert round(card.weight.gsm, 1) == 216.3
    assert (card.thickness.mm, card.thickness.how) == (0.27, "measured")
    assert (card.core, card.printed, card.grain) == ("white", "one side", "along width")
    assert (card.print_direction, card.rgb) == ("along height", "#ecdfc4")
    assert [float(stop.mm / Fraction("25.4")) for stop in project.board.stops] == [1.0, 2.5, 4.5]
    assert project.content.length == length(2, "in") and project.content.ease == length("0.25", "in")
    assert project.checks.closure_fail_mm == 1.2 and project.folding.finger_mm == 14.0
    assert project.extra == (("more", '{"when": 2024-05-01}'), ("shop", '{"price": 12.5, "tags": ["a", "b"]}'))


def test_no_ease_is_an_ease():
    content = "[content]\nlength = 2\nwidth = 2\nheight = 1\nease = 0\n"
    assert read_project(GOOD + content).content.ease == length(0, "in")
    assert read_project(GOOD + content.replace("ease = 0\n", "")).content.ease == length("0.125", "in")


def test_values_that_follow_others():
    values = part_values(GOOD)
    assert values.base_width == values.base_length and values.inner_wall == values.wall_height
    tied = read_project(GOOD).parts[0].tied_values
    assert tied == (("base_width", "base_length"), ("inner_wall", "wall_height"))
    spelt_out = read_project(GOOD + 'base_width = "As  base_length"\ninner_wall = "1 1/2"\n').parts[0]
    assert spelt_out.values.base_width == values.base_length
    assert spelt_out.tied_values == (("base_width", "base_length"),)


def test_open_values_and_those_that_follow_them():
    part = read_project(GOOD.replace('"3 1/4"', '"Work out"')).parts[0]
    assert part.open_values == ("base_length", "base_width")
    assert isinstance(part.values.base_width, Open)
    assert "cannot be worked out" in only(GOOD + 'relief = "work out"\n').reason


def test_all_problems_at_once_with_their_paths():
    found = problems(
        HEAD.replace("name", "naem")
        + CARD.replace("216 gsm", "80 lb").replace("12x12", "A44")
        + "[board]\nstops = [1, 'x', {}]\n"
        + TRAY.replace("2 1/4", "two")
        + 'base_widht = 3\nglue = "spit"\nrelief = -1\ntab_length = nan\nallowance = true\nrevision = 7\n'
        + '[content]\nlength = 3\n[settings]\nfinger_mm = "wide"\nclosure_fail_mm = inf\nheavy_gms = 3\n'
        + "[extra]\nnote = 1\n"
    )
    assert set(found) == {
        "naem",
        "name",
        "cardstock.weight",
        "cardstock.sheet",
        "board.stops, number 2",
        "board.stops, number 3",
        "parts.tray.wall_height",
        "parts.tray.base_widht",
        "parts.tray.glue",
        "parts.tray.relief",
        "parts.tray.tab_length",
        "parts.tray.allowance",
        "parts.tray.revision",
        "content.width",
        "content.height",
        "settings.finger_mm",
        "settings.closure_fail_mm",
        "settings.heavy_gms",
        "extra.note",
    }
    assert all(problem.reason and problem.remedy for problem in found.values())
    assert "name" in found["naem"].remedy
    assert "base_width" in found["parts.tray.base_widht"].remedy
    assert "heavy_gsm" in found["settings.heavy_gms"].remedy
    assert "cover 216 gsm" in found["cardstock.weight"].reason
    assert "A4" in found["cardstock.sheet"].remedy
    assert found["parts.tray.wall_height"].value == "two"


def test_a_range_is_told_in_the_makers_unit_inside_the_range():
    assert only(GOOD.replace('"3 1/4"', '"60"')).remedy == "write 7/16 in to 39 5/16 in"
    assert only(METRIC.replace("= 8", "= 0.2")).remedy == "write 1.0 cm to 100.0 cm"
    assert only(METRIC.replace("= 8", "= -8")).reason == "is less than nothing"


@pytest.mark.parametrize(
    ("line", "field", "remedy"),
    [
        ('inner_wall = "2 1/2"', "inner_wall", "write 2 1/4 in, as wall_height"),
        ('tab_length = "4"', "tab_length", "half of base_width (base_width is 3 1/4 in)"),
    ],
)
def test_contradictions_are_told_with_figures(line, field, remedy):
    problem = only(f"{GOOD}{line}\n")
    assert (problem.field, problem.remedy) == (f"parts.tray.{field}", remedy)


def test_weight_thickness_or_both():
    neither = only(HEAD + CARD.replace('weight = "216 gsm"\n', "") + TRAY)
    assert neither.field == "cardstock.weight" and "thickness" in neither.reason
    only_thickness = GOOD.replace('weight = "216 gsm"', 'thickness = "0.3 mm"')
    assert read_project(only_thickness).cardstock.weight is None
    assert read_project(GOOD + "").cardstock.weight.gsm == 216
    assert only(GOOD.replace('"216 gsm"', "216")).remedy.startswith("write '216 gsm'")
    assert only(GOOD.replace('weight = "216 gsm"', "thickness = 0.27")).field == "cardstock.thickness"


@pytest.mark.parametrize("stops", ["[]", '"none"'])
def test_no_board(stops):
    assert read_project(f"{GOOD}[board]\nstops = {stops}\n").board.stops == ()


def test_a_board_of_the_other_unit_and_a_short_one_are_fine():
    assert read_project(f'{GOOD}[board]\nstops = "centimetres"\n').board.unit == "cm"
    assert len(read_project(f"{GOOD}[board]\nstops = [1]\n").board.stops) == 1


def test_a_piece_larger_than_the_sheet_is_not_for_the_reader_to_judge():
    assert part_values(GOOD.replace('"3 1/4"', '"30"')).base_length == length(30, "in")


@pytest.mark.parametrize(
    ("unit", "ruler", "expected"),
    [
        ("in", '"1/8"', INCH_EIGHTHS),
        ("in", '"1/16 in"', INCH_SIXTEENTHS),
        ("in", "0.125", INCH_EIGHTHS),
        ("cm", '"1 mm"', CM_MILLIMETRES),
        ("cm", '"0.5 mm"', CM_HALF_MILLIMETRES),
    ],
)
def test_rulers(unit, ruler, expected):
    text = GOOD if unit == "in" else METRIC
    assert read_project(text.replace("[cardstock]", f"ruler = {ruler}\n[cardstock]", 1)).ruler == expected


@pytest.mark.parametrize("ruler", ['"1/7"', '"1 mm"', '"fine"', "true", "[1]", "nan"])
def test_rulers_that_are_none(ruler):
    problem = only(GOOD.replace("[cardstock]", f"ruler = {ruler}\n[cardstock]", 1))
    assert problem.field == "ruler" and "1/16 in" in problem.remedy


@pytest.mark.parametrize(
    "name", ['""', '"   "', f'"{"x" * 301}"', '"a\\nb"', '"a\\u0007"', '"a\\u202Eb"', "7", "true", "[]"]
)
def test_names_that_cannot_be_printed(name):
    assert only(GOOD.replace('"Shells"', name)).field == "name"


def test_a_name_of_eighty_characters_in_any_script():
    assert read_project(GOOD.replace("Shells", "貝" * 300)).name == "貝" * 300


def test_formats():
    newer = only("format = 2\nnothing = 'else is looked at'\n")
    assert newer.field == "format" and "format 2" in newer.remedy
    assert only(GOOD.replace("format = 1", "format = 0")).field == "format"
    assert only(GOOD.replace("format = 1", 'format = "1"')).reason == "is not a whole number"
    assert only(GOOD.replace("format = 1", "format = true")).reason == "is not a whole number"
    assert only(GOOD.replace("format = 1\n", "")).reason == "is missing"


def test_an_empty_file_says_all_that_is_needed():
    assert set(problems("")) == {"format", "name", "unit", "cardstock.sheet", "cardstock.weight", "parts"}


def test_headings_that_are_values():
    found = problems(HEAD + 'cardstock = "red"\nboard = 3\nparts = []\nsettings = 1\nextra = 2\ncontent = ""\n')
    assert {"cardstock", "board", "parts", "settings", "extra", "content"} <= set(found)
    assert "parts.tray" in problems(HEAD + CARD + "[parts]\ntray = 3\n")


def test_constructions_by_name():
    assert "double-wall tray" in only(GOOD.replace("double-wall", "double wall")).remedy
    assert only(GOOD.replace('construction = "double-wall tray"\n', "")).field == "parts.tray.construction"
    assert read_project(GOOD.replace("double-wall", "Double-Wall")).parts[0].construction.revision == 1
    assert only(GOOD.replace('"double-wall tray"', "3")).reason == "is not text"


def test_parts_by_name():
    eight = "".join(TRAY.replace("tray]", f"tray-{count}]") for count in range(8))
    assert len(read_project(HEAD + CARD + eight).parts) == 8
    assert "8" in only(HEAD + CARD + eight + TRAY).remedy
    assert only(HEAD + CARD + TRAY.replace("parts.tray", 'parts."../tray"')).field == 'parts."../tray"'
    assert only(HEAD + CARD + TRAY.replace("parts.tray", f"parts.{'x' * 41}")).reason == "is no name for a part"
    assert only(GOOD + TRAY.replace("parts.tray", "parts.Tray")).field == "parts.Tray"


# --- Parts on parts, and lists of layers --------------------------------------------------------------------

LID = """\
[parts.lid]
construction = "turning lid"
on = "tray"
shape = "rosette"
across = "5 1/2"
hole_from_corner = "3/4"
"""
LAYERS = """\
[[parts.lid.layers]]
colour = " shell white "
fill = "#FBF7EE"
[[parts.lid.layers]]
across = 5
turned = 7.5
fixed = "Foam"
brad = "hidden under it"
"""
BOX = GOOD + LID + LAYERS


def lid_values(text):
    """The values of the lid, the last part."""
    return read_project(text).parts[-1].values


def with_lid(*lines):
    """The box with lines added to its lid."""
    return GOOD + LID + "".join(f"{line}\n" for line in lines) + LAYERS


def test_a_lid_on_a_tray():
    tray, lid = read_project(BOX).parts
    assert (tray.on, lid.on, lid.values.on, lid.construction.name) == ("", "tray", "tray", "turning lid")
    assert lid.open_values == ()
    assert (lid.values.lobes, lid.values.depth, lid.values.closed) == ("usual", "usual", "tip over the corner")
    lower, upper = lid.values.layers
    assert (lower.across, lower.turned) == ("as the lid", "not turned")
    assert (lower.colour, lower.fill) == ("shell white", "#fbf7ee")
    assert (upper.across, upper.turned, upper.fixed) == (length(5, "in"), 7.5, "foam")
    assert upper.foam == length("0.0625", "in")


def test_parts_keep_the_order_of_the_file():
    assert [part.name for part in read_project(HEAD + CARD + LID + LAYERS + TRAY).parts] == ["lid", "tray"]


def test_counts_and_angles_are_numbers_in_quotes_or_not():
    plain = lid_values(with_lid("lobes = 12", "closed = 15"))
    quoted = lid_values(with_lid('lobes = "12"', 'closed = "15"'))
    assert plain == quoted
    assert (plain.lobes, plain.closed) == (12, 15.0) and isinstance(plain.closed, float)
    assert str(lid_values(with_lid("closed = -0.0")).closed) == "0.0"
    assert lid_values(with_lid('closed = "As  drawn"', 'lobes = "usual"')).closed == "as drawn"


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("lobes = 2", "is too small"),
        ("lobes = 49", "is too large"),
        ("lobes = 12.5", "is not a whole number"),
        ("lobes = 12.0", "is not a whole number"),
        ("lobes = true", "is not a whole number"),
        ("lobes = [12]", "is not a whole number"),
        ('lobes = "many"', "is not a whole number and none of the choices"),
        ("lobes = nan", "is not a finite number"),
        ("lobes = " + "9" * 400, "is too large"),
        ('lobes = "' + "9" * 5000 + '"', "is not a whole number and none of the choices"),
        ("closed = 361", "is too large"),
        ("closed = -360.5", "is too small"),
        ("closed = nan", "is not a finite number"),
        ("closed = -inf", "is not a finite number"),
        ('closed = "fifteen"', "is not a number of degrees and none of the choices"),
        ("closed = false", "is not a number of degrees"),
    ],
)
def test_counts_and_angles_that_are_none(line, reason):
    problem = only(with_lid(line))
    key = line.partition(" ")[0]
    assert (problem.field, problem.reason) == (f"parts.lid.{key}", reason)
    assert ("3 to 48" if key == "lobes" else "-360 to 360 in degrees") in problem.remedy


@pytest.mark.parametrize(
    ("before", "after", "key"),
    [
        ('" shell white "', '"   "', "colour"),
        ('" shell white "', f'"{"x" * 41}"', "colour"),
        ('" shell white "', '"shell\\nwhite"', "colour"),
        ('" shell white "', "7", "colour"),
        ('"#FBF7EE"', '"#FBF7E"', "fill"),
        ('"#FBF7EE"', '"white"', "fill"),
        ('"#FBF7EE"', "0", "fill"),
    ],
)
def test_texts_are_short_and_colours_are_colours(before, after, key):
    assert only(BOX.replace(before, after)).field == f"parts.lid.layers.1.{key}"
    assert lid_values(BOX.replace(" shell white ", "x" * 40)).layers[0].colour == "x" * 40


def test_all_problems_of_a_lid_at_once_with_their_paths():
    found = problems(
        GOOD
        + LID.replace('"tray"', '"trays"').replace("5 1/2", "wide")
        + 'strip = -1\nfastner = "brad"\nlegs = 0\n'
        + LAYERS.replace("#FBF7EE", "pink").replace("7.5", "nan")
        + "foam = -1\nedge_by = inf\ncolor = 'red'\n"
        + "[[parts.lid.layers]]\nfixed = 'nails'\n"
    )
    assert set(found) == {
        "parts.lid.on",
        "parts.lid.across",
        "parts.lid.strip",
        "parts.lid.fastner",
        "parts.lid.legs",
        "parts.lid.layers.1.fill",
        "parts.lid.layers.2.turned",
        "parts.lid.layers.2.foam",
        "parts.lid.layers.2.edge_by",
        "parts.lid.layers.2.color",
        "parts.lid.layers.3.fixed",
    }
    assert all(problem.reason and problem.remedy for problem in found.values())
    assert "tray" in found["parts.lid.on"].remedy
    assert found["parts.lid.layers.2.foam"].reason == "is less than nothing"
    assert "colour" in found["parts.lid.layers.2.color"].remedy
    assert "fastener" in found["parts.lid.fastner"].remedy


@pytest.mark.parametrize(
    ("layers", "field", "reason"),
    [
        ("", "layers", "is missing"),
        ("layers = []\n", "layers", "is missing"),
        ("layers = 3\n", "layers", "is a list of headings"),
        ('layers = "two"\n', "layers", "is a list of headings"),
        ("[parts.lid.layers]\nacross = 5\n", "layers", "is a single heading"),
        ("layers = [{}, 3]\n", "layers.2", "is a heading with keys under it"),
        ("[[parts.lid.layers]]\n" * 41, "layers", "has 41 of them"),
    ],
)
def test_layers_that_are_none(layers, field, reason):
    problem = only(GOOD + LID + layers)
    assert (problem.field, problem.reason) == (f"parts.lid.{field}", reason)
    assert "[[parts.lid.layers]]" in problem.remedy or problem.remedy == "write at most 40"


def test_eight_layers_and_one():
    assert len(lid_values(GOOD + LID + "[[parts.lid.layers]]\n" * 8).layers) == 8
    assert len(lid_values(GOOD + LID + "layers = [{}]\n").layers) == 1


@pytest.mark.parametrize(
    ("text", "field", "reason", "remedy"),
    [
        (BOX.replace('on = "tray"\n', ""), "lid.on", "is missing", 'write on = "tray"'),
        (BOX.replace('"tray"\n', '"box"\n'), "lid.on", "there is no part of this name", "write tray"),
        (BOX.replace('"tray"\n', '"lid"\n'), "lid.on", "is this part itself", 'write on = "tray"'),
        (BOX.replace('"tray"\n', "7\n"), "lid.on", "is not text", "write it in quotes"),
        (HEAD + CARD + LID + LAYERS, "lid.on", "there is no part of this name", "add the part it goes on"),
        (BOX + BOX[len(GOOD) :].replace("parts.lid", "parts.top"), "top.on", "has lid on it already", "add the part"),
        (
            BOX + BOX[len(GOOD) :].replace("parts.lid", "parts.top").replace('"tray"', '"lid"'),
            "top.on",
            "is a part that goes on another one itself",
            "add the part",
        ),
    ],
)
def test_a_lid_goes_on_another_part_that_stands_alone(text, field, reason, remedy):
    problem = only(text)
    assert (problem.field, problem.reason) == (f"parts.{field}", reason)
    assert problem.remedy.startswith(remedy)


def test_two_lids_on_two_trays():
    second = TRAY.replace("parts.tray", "parts.box") + BOX[len(GOOD) :].replace("parts.lid", "parts.top")
    parts = read_project(BOX + second.replace('on = "tray"', 'on = "box"')).parts
    assert [(part.name, part.on) for part in parts] == [("tray", ""), ("lid", "tray"), ("box", ""), ("top", "box")]


def test_a_wrong_tray_does_not_hide_what_is_wrong_with_its_lid():
    found = problems(BOX.replace('"2 1/4"', '"two"').replace('"5 1/2"', '"wide"'))
    assert set(found) == {"parts.tray.wall_height", "parts.lid.across"}
    assert set(problems(BOX.replace("double-wall tray", "bucket"))) == {"parts.tray.construction"}


def test_open_values_of_a_lid():
    text = BOX.replace('"5 1/2"', '"work out"').replace('"3/4"', '"Work out"')
    assert read_project(text).parts[-1].open_values == ("across", "hole_from_corner")
    assert only(BOX.replace("across = 5\n", 'across = "work out"\n')).field == "parts.lid.layers.2.across"


@pytest.mark.parametrize(
    ("text", "field", "reason"),
    [
        (with_lid('strip = "2 1/2"'), "strip", "too large for a base"),
        (with_lid('head = "1/8"'), "head", "slips through the hole"),
        (with_lid('depth = "3 in"'), "depth", "deeper than the radius"),
        (with_lid("lobes = 7").replace('"rosette"', '"square"'), "lobes", "a square has none"),
        (BOX.replace("fixed", 'edge = "hanging"\nfixed'), "layers", "has no height"),
        (BOX.replace("colour", 'brad = "hidden under it"\ncolour'), "layers", "through the lowest layer"),
        (BOX.replace("colour", 'greeting = "yes"\ncolour') + 'greeting = "yes"\n', "layers", "2 fronts"),
    ],
)
def test_contradictions_of_a_lid(text, field, reason):
    found = problems(text)
    assert set(found) == {f"parts.lid.{field}"}
    assert reason in found[f"parts.lid.{field}"].reason and found[f"parts.lid.{field}"].remedy


def test_contradictions_of_a_lid_and_with_its_tray_are_told_together():
    assert set(problems(with_lid('strip = "2 1/2"', 'depth = "3 in"'))) == {"parts.lid.strip", "parts.lid.depth"}


def test_settings_in_a_senseless_order():
    assert only(f"{GOOD}[settings]\nclosure_look_mm = 2\n").field == "settings.closure_look_mm"
    assert only(f"{GOOD}[settings]\nclosure_fail_mm = 0.5\n").field == "settings.closure_fail_mm"
    equal = read_project(f"{GOOD}[settings]\nclosure_fail_mm = 1\nclosure_look_mm = 1\n")
    assert equal.checks.closure_look_mm == equal.checks.closure_fail_mm == 1.0


def test_at_most_fifty_problems_are_listed_then_counted():
    with pytest.raises(InputError) as caught:
        read_project(HEAD + "".join(f"key{count} = 1\n" for count in range(60)) + CARD + TRAY)
    assert len(caught.value.problems) == 51
    assert "10 more problems" in caught.value.problems[-1].reason
    with pytest.raises(InputError) as caught:
        read_project(HEAD + "".join(f"key{count} = 1\n" for count in range(50)) + CARD + TRAY)
    assert len(caught.value.problems) == 50


def test_values_are_shown_short_and_on_one_line():
    problem = only(f'{GOOD}glue = "{"long " * 100}\\n"\n')
    assert len(problem.value) <= 60 and problem.value.endswith("…")
    assert "\n" not in only(GOOD.replace('"216 gsm"', '"a\\nb"')).value


@pytest.mark.parametrize(
    "text",
    [
        "x" * 10_000_000,
        GOOD + "wide = " + "9" * 5000,
        GOOD + "wide = 0x" + "f" * 900_000,
        HEAD + "".join(f"k{count}=1\n" for count in range(80_000)) + CARD + TRAY,
        "a = " + "[" * 400_000,
        ".".join("a" * 400_000) + " = 1",
        "[" + ".".join("a" * 400_000) + "]",
        'a = "' + '"""\\' * 200_000,
        "k" * 900_000 + " = 1",
        f"{GOOD}[board]\nstops = [{'1, ' * 250_000}]\n",
    ],
    ids=["10 MB", "digits", "hex", "keys", "brackets", "dots", "heading", "quotes", "long key", "long list"],
)
def test_hostile_files_are_refused(text):
    """Each takes well under a second; read without care, hours. No clock in the verdict: a hang is seen."""
    assert problems(text)
