"""Every code there is has words, and every word is one a maker knows: complete, plain, short, British."""

import ast
import re
from itertools import combinations, product
from pathlib import Path

import pytest

from foldproof.checks import turning
from foldproof.checks.catalogue import CHECKS
from foldproof.checks.proof import Assumption
from foldproof.constructions.catalogue import CONSTRUCTIONS
from foldproof.constructions.parameters import values_of
from foldproof.constructions.turning_lid import LidLayerValues, TurningLidValues, layer_piece
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.findings import Change, Finding, Severity
from foldproof.lengths import CM_MILLIMETRES, INCH_SIXTEENTHS, ZERO, length
from foldproof.project.keys import BOARD_KEYS, CARDSTOCK_KEYS, CONTENT_KEYS
from foldproof.project.read import read_project
from foldproof.teach.messages import (
    ENGLISH,
    STATES,
    FindingWords,
    StepWords,
    assumption_words,
    bench_words,
    cautions,
    change_words,
    changes_words,
    finding_words,
    piece_words,
    stage_words,
    step_words,
    verdict_words,
    words_for_part,
)
from foldproof.teach.steps import Fold, FoldingStep, folding_steps
from foldproof.words.lengths import Speech

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "foldproof"
EXAMPLES = sorted((PACKAGE / "examples").glob("*.toml"))

INCHES = Speech(ruler=INCH_SIXTEENTHS, other_ruler=CM_MILLIMETRES)
METRIC = Speech(ruler=CM_MILLIMETRES, other_ruler=INCH_SIXTEENTHS)

MOST_WORDS = 22  # in one sentence
MOST_GRADE = 7.0  # Flesch-Kincaid: about twelve years old
HARDEST_GRADE = 8.0  # for one text alone, where a single long word weighs much
FEWEST_WORDS = 5  # a grade of fewer words says nothing
BANNED = (
    r"panels?|creases?|blanks?|residuals?|SAT|revolute|prismatic|polygons?|vector|tolerances?|severity|tree|pose|"
    r"kinematics?|overlaps?|adhesives?|assembly|clearances?|substrate|iterations?|null|None|nan"
)
AMERICAN = r"colors?|colored|centers?|centered|gray|millimeters?|centimeters?|organize\w*|recognize\w*|favorite|mold\w*"


def caught(*on):
    """What a lid that catches tells: layer after layer, each with what it meets, how it lies then, and its depth."""
    values = {}
    for number, each in enumerate(on, start=1):
        values |= {
            f"layer_{number}": f"layer_{number}",
            f"on_{number}": each,
            f"angle_{number}_deg": (12.3, -8.1, 0.0)[number - 1],
            f"depth_{number}_mm": 1.5,
        }
    return values


# What each check tells beside its number, with every kind of text it can tell; checked against real proofs below.
OTHER_VALUES = {
    "content_room": [{"ease_mm": 3.175, "height_mm": 5.0}],
    "fits_sheet": [
        {
            "sheet": "12x12",
            "width_mm": width,
            "height_mm": height,
            "sheet_width_mm": 304.8,
            "sheet_height_mm": 304.8,
        }
        for width, height in ((387.35, 101.6), (387.35, 387.35), (101.6, 101.6))
    ],
    "joins_close": [{"joins": 12.0, "gap_mm": 0.4, "slip_mm": 1.2}],
    "fold_order": [
        {"states": 688.0, "complete": complete, **reason}
        for complete in ("yes", "no")
        for reason in ({}, *({"reason": reason} for reason in ENGLISH.reasons))
    ],
    "lid_room": [{"ease_mm": 3.175}],
    "lid_loose": [{"ease_mm": 3.175}],
    "glue_area": [{"joins": 12.0}],
    "stack_height": [{"layers": 4.0}],
    "thickness_estimated": [{"low_mm": 0.22, "high_mm": 0.29, "how": how} for how in ("measured", "estimated")],
    "readings_differ": [
        {"safer": safer, "trim_first_mm": trim} for safer in ("one edge", "each edge", "same") for trim in (0.0, 4.5)
    ],
    "grain": [
        {"grain": grain, "gsm": gsm, "heavy_gsm": 200.0}
        for grain in ("unknown", "along width", "along height")
        for gsm in (0.0, 216.0)
    ],
    "white_shows": [
        {"printed": printed, "core": core}
        for printed, core in product(("plain", "one side", "both sides"), ("solid", "white"))
    ],
    "lid_covers": [{"distance_mm": 4.0}],
    "lid_comfort": [
        {"hole_off_mm": 1.5875, "turn_off_deg": 5.0, "tolerance_mm": tolerance} for tolerance in (0.0, 1.5875)
    ],
    "lid_opens": [
        {
            "opened_deg": opened,
            "left_deg": 170.0,
            "left_share": 0.8,
            "right_deg": -171.0,
            "right_share": 0.81,
            "front": front,
            "sweep_mm": 107.95,
            "beyond_mm": 84.0,
            "beside_mm": 90.4875,
            "behind_mm": 38.1,
        }
        for opened, front in ((-171.0, "left"), (170.0, "front"), (0.0, "back"), (180.0, "right"))
    ],
    "head_on_lid": [
        {"hidden": "no"},
        {"hidden": "yes", "hidden_mm": -0.3},
        {"hidden": "yes", "hidden_mm": 6.0},
    ],
    "content_corner": [{"where": where, "flaps_mm": 38.0, "strip_mm": 25.4} for where in ("beside", "close", "under")],
    "fastener_grips": [
        {"kind": kind, "side": side, "held_mm": 1.3, "least_mm": 0.8, "most_mm": 3.2}
        for kind, side in product(("eyelet", "snap"), ("thick", "thin"))
    ],
    "back_has_room": [
        {"kind": kind, "over": over, "back_mm": 9.5} for kind, over in product(("eyelet", "snap"), ("walls", "edge"))
    ],
    "disc_hidden": [{"disc_mm": 31.75}],
    "legs_long": [{"legs_mm": 12.7, "opening_mm": 4.0}],
    "legs_room": [{"legs_mm": 12.7, "opening_mm": 4.0}],
    "legs_finger": [{"opened_deg": opened} for opened in (-171.0, 12.0)],
    "lid_catches": [
        {},
        caught("wall_back"),
        caught("triangle", "fastener"),
        caught("wall_left", "wall_front", "triangle"),
    ],
    "edge_presses": [{}, {"layer_1": "layer_1", "on_1": "layer_2", "room_1_mm": 1.5875, "by_1_mm": 0.8}],
    "size_owned": [{"size_mm": 130.0, "nearest_mm": 127.0}],
    "box_tips": [{"angle_deg": 135.0, "mass_g": 12.0, "box_g": 9.5}],
}
COUNTS = (
    *("join_wrong_side", "contact_end", "fold_order", "glue_slides", "lid_way", "grain"),
    *("lid_catches", "edge_presses", "triangle_in", "size_owned"),
)
SHARES = ("lid_opens",)
PAIRED = ("glue_slides", "lid_way", "triangle_in")
AT_LEAST = (
    *("fits_sheet", "fold_order", "lid_room", "glue_area", "content_corner"),
    *(code for code in turning.CODES if code not in COUNTS),
)
AREAS = ("glue_area", "white_shows")
TOOLS = ("knife", "scissors", "awl", "small parts")
SUBJECTS = {
    "fits_sheet": ("lid",),
    "fold_order": ("tray", "wall_right", "tab_back_right", "inner_right"),
    "glue_slides": ("wall_right+tab_back_right", "wall_left+tab_front_left", "tab_back_right+tab_front_right"),
    "lid_way": ("wall_right+wall_back", "tab_back_right+wall_back", "wall_left+wall_back"),
    "fold_takes_up": ("fold_inner_left",),
    "stack_height": ("wall_right", "tab_back_right", "inner_right"),
    "fold_in_clears": ("inner_left",),
    "tabs_in_view": ("inner_left",),
    "mark_error": ("tray",),
    "readings_differ": ("tray",),
    "lid_room": ("lid", "tray"),
    "white_shows": ("base", "wall_back", "inner_left"),
    "thickness_estimated": (),
    "grain": (),
    "lid_catches": ("layer_2", "layer_1"),
    "edge_presses": ("layer_1",),
    "size_owned": ("layer_2", "layer_3"),
    "triangle_in": ("wall_right+flap_left", "inner_back+flap_right", "wall_back+triangle"),
    **{code: ("lid",) for code in turning.CODES if code not in COUNTS},
}
CODES = [code for check in CHECKS for code in check.codes]


def unit_of(code):
    """What a check measures in."""
    return "count" if code in COUNTS else "mm2" if code in AREAS else "percent" if code in SHARES else "mm"


def samples(code):
    """Findings of a code in every state, with each kind of value and measures of several sizes."""
    unit = unit_of(code)
    severities = [s for s in Severity if s is not Severity.UNDECIDED or code == "fold_order"]
    measures = {
        "mm": (-82.55, -0.3, 0.0, 0.27, 82.55),
        "mm2": (0.0, 12.0, 645.16),
        "percent": (0.0, 49.6, 81.2, 100.0),
        "count": (0, 1, 3, 3311616),
    }[unit]
    for severity, measured, values in product(severities, measures, OTHER_VALUES.get(code, [{}])):
        subjects = SUBJECTS.get(code, ("wall_right+tab_back_right",))
        if code in PAIRED:  # one subject for each pair that is counted
            subjects = subjects[: max(1, measured)]
        yield Finding(
            code=code,
            severity=severity,
            measured=float(measured),
            limit=0.0 if unit == "count" else 0.8,
            unit=unit,
            sense="at_least" if code in AT_LEAST else "at_most",
            subjects=subjects,
            values=tuple(values.items()),
        )


def every_finding_words():
    for code in CODES:
        for finding, speech in product(samples(code), (INCHES, METRIC)):
            yield finding_words(finding, speech)


NEVER_GLUED = ("triangle_flaps",)  # the triangle's flaps are folded first, and glued to the box at the bench


def steps_of_every_family():
    children = {
        "tabs": ("tab_back_right", "tab_back_left", "tab_front_right", "tab_front_left"),
        "tabbed_walls": ("wall_back", "wall_front"),
        "glued_walls": ("wall_right", "wall_left"),
        "inner_walls_over_tabs": ("inner_right", "inner_left"),
        "inner_walls": ("inner_back", "inner_front"),
        "triangle_flaps": ("flap_left", "flap_right"),
    }
    for family, names in children.items():
        glued = ((len(names), True, False), (1, True, True)) if family not in NEVER_GLUED else ()
        for number, closing, sliding in (*glued, (2, False, False)):
            yield FoldingStep(
                piece="tray",
                family=family,
                folds=tuple(
                    Fold(
                        crease=f"fold_{name}",
                        child=name,
                        moving=(name,),
                        closes=("wall_right+tab_back_right",) if closing else (),
                        sliding=("wall_right+tab_back_right",) if sliding else (),
                    )
                    for name in names[:number]
                ),
                before=(),
                after=(),
            )


def every_step_words():
    for step, glue in product(steps_of_every_family(), ENGLISH.adhesives):
        yield step_words(step, glue)
    lengths = {
        "cut_piece": (length("10.75", "in"), length("10.75", "in")),
        "score_one_way": tuple(length(at, "in") for at in ("1.5", "3.75", "7", "9.25")),
        "score_other_way": tuple(length(at, "in") for at in ("1.5", "3.75", "7", "9.25")),
        "cut_corners": (length("1.5625", "in"),),
        "lid_cut_triangle": (length("2", "in"), length("1", "in")),
        "lid_try_turn": (length("0.125", "in"),),
        "lid_make_hole": (length("0.125", "in"),),
        "lid_glue_disc": (length("1.25", "in"),),
        "lid_hole_by_hand": (length("0.75", "in"),),
        "lid_hole_by_sides": (length("0.75", "in"), length("0.5", "in")),
    }
    layers = tuple(length(across, "in") for across in ("5.5", "5", "4", "3.5", "3.25", "3", "2.5", "2"))
    codes = dict.fromkeys(key.partition("/")[0] for key in ENGLISH.bench_steps)
    for code, speech, piece, glue in product(codes, (INCHES, METRIC), ENGLISH.pieces, ENGLISH.layer_adhesives):
        for place in ("left", "front", "back right"):
            yield bench_words(code, piece, speech, lengths.get(code, ()), glue=glue, place=place)
    for speech, number in product((INCHES, METRIC), range(1, len(layers) + 1)):
        yield bench_words("lid_cut_layers", "lid", speech, layers[:number])


def step_texts(words: StepWords):
    return (words.title, words.text, words.check, words.if_not, *([words.caution] if words.caution else []))


def finding_texts(words: FindingWords):
    return (words.title, words.measured, words.limit, words.why, words.state)


def every_text():
    """All that can be said, as the maker reads it."""
    texts = {text for words in every_finding_words() for text in finding_texts(words)}
    texts |= {text for words in every_step_words() for text in step_texts(words)}
    texts |= {stage_words(code) for code in ENGLISH.stages}
    texts |= {text for glue in ENGLISH.adhesives for text in cautions(glue, TOOLS)}
    texts |= {change_words(Change(path=path, value=value), INCHES) for path, value in every_change()}
    return sorted(texts)


TYPED = {
    "length": "1 3/8",
    "length_or_choice": "1 3/8",
    "count": "10",
    "angle": "30",
    "text": "#1d4e89",
    "part": "tray",
    "shape": "disc",
}


def every_change():
    for construction in CONSTRUCTIONS:
        yield from changes_of("parts.tray", construction.parameters)
    for table, keys in (("cardstock", CARDSTOCK_KEYS), ("board", BOARD_KEYS), ("content", CONTENT_KEYS)):
        yield from ((f"{table}.{key.name}", usual) for key in keys for usual in (*key.choices, key.usual[0]))


def changes_of(path, parameters):
    """A change to each kind of value of a record, and of the records in its lists."""
    for value in values_of(parameters):
        if value.kind == "list":
            yield from changes_of(f"{path}.{value.name}.2", value.record)
        elif value.kind != "choice":
            yield f"{path}.{value.name}", TYPED[value.kind]
            if value.least is not None and value.least < ZERO:
                yield f"{path}.{value.name}", f"-{TYPED[value.kind]}"
        yield from ((f"{path}.{value.name}", choice) for choice in value.choices)


def sentences(text):
    return [part for part in re.split(r"(?<=[.!?:])\s+", text) if part]


def word_list(text):
    return re.findall(r"[A-Za-z][A-Za-z'-]*", text)


def syllables(word):
    """Vowel groups, less a silent e at the end: near enough for a mean over hundreds of words."""
    plain = re.sub(r"(?<![aeiouylsczxgh])es$|(?<![aeiouytd])ed$|(?<![aeiouyl])e$", "", word.lower())
    return max(1, len(re.findall(r"[aeiouy]+", plain)))


def grade(texts):
    """Flesch-Kincaid grade of texts: 0.39 words a sentence + 11.8 syllables a word - 15.59."""
    told = [sentence for text in texts for sentence in sentences(text)]
    words = [word for sentence in told for word in word_list(sentence)]
    return 0.39 * len(words) / len(told) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59


@pytest.mark.parametrize(
    ("word", "number"),
    [
        ("the", 1),
        ("score", 1),
        ("glued", 1),
        ("folded", 2),
        ("places", 2),
        ("little", 2),
        ("inner", 2),
        ("thickness", 2),
    ],
)
def test_syllables_of_known_words(word, number):
    assert syllables(word) == number


def test_the_grade_of_known_texts():
    """Checked by hand: 6 words of 6 syllables in one sentence; three words no child reads."""
    assert grade(["The cat sat on the mat."]) == pytest.approx(0.39 * 6 + 11.8 - 15.59)
    assert grade(["Considerable institutional complications."]) > 30


def test_every_code_has_words_and_no_word_is_left_over():
    assert sorted(ENGLISH.findings) == sorted(CODES)
    assert set(COUNTS + AREAS) | set(OTHER_VALUES) | set(SUBJECTS) <= set(CODES)


@pytest.mark.parametrize("code", CODES)
def test_every_state_of_every_finding_is_told(code):
    seen = set()
    for finding, speech in product(samples(code), (INCHES, METRIC)):
        words = finding_words(finding, speech)
        seen.add(words.state)
        assert all(text.strip() for text in finding_texts(words)), words
        assert "{" not in "".join(finding_texts(words)) and "}" not in "".join(finding_texts(words))
        assert "_" not in "".join(finding_texts(words))
        assert not words.title[0].islower() and not words.why[0].islower() and words.why.endswith(".")
        assert not words.title.endswith(".")
    told = {severity for severity in Severity if severity is not Severity.UNDECIDED or code == "fold_order"}
    assert seen == {ENGLISH.common.states[STATES[severity]] for severity in told}


@pytest.mark.parametrize("code", CODES)
def test_a_finding_that_fails_does_not_sound_as_if_it_held(code):
    titles = {
        severity: {finding_words(f, INCHES).title for f in samples(code) if f.severity is severity}
        for severity in Severity
    }
    for one, other in combinations((Severity.HOLDS, Severity.LOOK, Severity.FAILS), 2):
        assert not titles[one] & titles[other]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("speech", [INCHES, METRIC], ids=["inches", "metric"])
def test_real_proofs_are_told_whole(path, speech):
    """The values that the checks give are the values that the words need, and those the samples here have."""
    proof = prove(measure(read_project(path.read_text(encoding="utf-8"))))
    assert proof.findings
    for finding in proof.findings:
        names = {name for name, _ in finding.values} - {"reason"}
        known = [set(values) - {"reason"} for values in OTHER_VALUES.get(finding.code, [{}])]
        assert names in known, finding.code
        assert finding.unit == unit_of(finding.code)
        texts = finding_texts(finding_words(finding, speech))
        assert not re.search(r"[{}_]", " ".join(texts)), texts
        for proposal in finding.proposals:
            assert "parts." not in changes_words(proposal, speech)
    words = verdict_words(proof.verdict, proof.findings, speech)
    assert words.headline.startswith(proof.verdict.replace("_", " ").capitalize())
    for assumption in proof.assumptions:
        assert not re.search(r"[{}_]", assumption_words(assumption, speech))
    for part in proof.parts:
        glue = getattr(part.evidence.part.values, "glue", "wet glue")  # a lid's layers each have their own
        for piece in part.evidence.pieces:
            steps = folding_steps(piece.tree, piece.orders, piece.joins)
            assert bool(steps) == bool(piece.tree.steps)  # a layer has nothing to fold
            for step in steps:
                assert all(text and "{" not in text for text in step_texts(step_words(step, glue)))
            for panel in piece.tree.panels:
                assert words_for_part(panel).startswith("the ") and "part" not in words_for_part(panel)


def string_arguments(name, folder):
    """Texts given to an argument of this name anywhere in a folder of the package."""
    for path in sorted((PACKAGE / folder).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                for keyword in node.keywords:
                    if keyword.arg == name and isinstance(keyword.value, ast.Constant):
                        yield keyword.value.value


def test_every_reason_for_a_dead_end_has_words():
    reasons = set(string_arguments("reason", "folding"))
    source = (PACKAGE / "folding" / "orders.py").read_text(encoding="utf-8")
    reasons |= set(re.findall(r'\[?\(\(?"([a-z_]+)", (?:pair|\()', source))
    assert {"contact", "wrong_side", "pocket", "hot_glue_slides", "finger_reach"} <= reasons
    assert reasons == set(ENGLISH.reasons)


def test_every_stage_that_is_reported_has_words():
    stages = {
        found
        for path in PACKAGE.rglob("*.py")
        for found in re.findall(r'progress\("(\w+)"', path.read_text(encoding="utf-8"))
    }
    assert "orders" in stages
    assert stages <= set(ENGLISH.stages)


def test_every_family_of_folds_has_steps_plain_and_glued():
    source = "".join(path.read_text(encoding="utf-8") for path in (PACKAGE / "constructions").glob("*.py"))
    families = {step.family for step in steps_of_every_family()}
    assert families == {name for name in families if f'"{name}"' in source}
    glued = families - set(NEVER_GLUED)
    assert set(ENGLISH.fold_steps) == {f"{name}/plain" for name in families} | {f"{name}/glued" for name in glued}


def test_every_glue_that_can_be_chosen_has_words():
    for construction in CONSTRUCTIONS:
        glues = [value for value in values_of(construction.parameters) if value.name == "glue"]
        assert glues or construction.parameters is TurningLidValues
        assert all(set(glue.choices) == set(ENGLISH.adhesives) for glue in glues)
    (fixed,) = (value for value in values_of(LidLayerValues) if value.name == "fixed")
    assert set(fixed.choices) == set(ENGLISH.layer_adhesives)


def test_every_layer_a_lid_can_have_has_a_name():
    (layers,) = (value for value in values_of(TurningLidValues) if value.name == "layers")
    names = [piece_words(layer_piece(number)) for number in range(1, int(layers.top) + 1)]
    assert len(set(names)) == layers.top and all(name.endswith(" layer") for name in names)


def test_every_special_wording_is_used():
    """Each wording for one piece, one glue or one number of lengths is reached, and its ending is a known one."""
    endings = {key.partition("/")[2] for key in ENGLISH.bench_steps} - {""}
    assert endings <= {*ENGLISH.pieces, *ENGLISH.layer_adhesives, "one", "many"}
    told = {words.text for words in every_step_words()}
    for key, wording in ENGLISH.bench_steps.items():
        pattern = re.compile(".+".join(re.escape(part) for part in re.split(r"{\w+}", wording.text)))
        assert any(pattern.fullmatch(text) for text in told), key


@pytest.mark.parametrize(("path", "value"), sorted(set(every_change())))
def test_every_value_that_can_change_has_words(path, value):
    words = change_words(Change(path=path, value=value), INCHES)
    assert path not in words and "{" not in words and "_" not in words
    assert words[0].islower() and not words.endswith(".") and " -" not in words


@pytest.mark.parametrize("key", sorted(ENGLISH.assumptions))
def test_every_assumption_has_words(key):
    code, _, choice = key.partition("/")
    names = re.findall(r"{(\w+)}", ENGLISH.assumptions[key])
    values = tuple((name, "inch eighths" if name == "board" else 0.29) for name in names)
    words = assumption_words(Assumption(code=code, values=(("how", choice or "usual"), *values)), INCHES)
    assert words and "{" not in words


def test_no_sentence_is_long():
    long = {s: len(s.split()) for text in every_text() for s in sentences(text) if len(s.split()) > MOST_WORDS}
    assert long == {}


def test_the_words_are_easy_to_read():
    prose = {text for words in every_finding_words() for text in (words.title, words.why)}
    prose |= {text for words in every_step_words() for text in step_texts(words)}
    prose |= {text for glue in ENGLISH.adhesives for text in cautions(glue, TOOLS)}
    assert len(prose) > 100
    assert grade(sorted(prose)) <= MOST_GRADE
    longer = [text for text in prose if len(word_list(text)) >= FEWEST_WORDS]
    assert {text: grade([text]) for text in longer if grade([text]) > HARDEST_GRADE} == {}


@pytest.mark.parametrize("pattern", [BANNED, AMERICAN], ids=["no jargon", "British spelling"])
def test_the_words_are_a_makers(pattern):
    found = {text: m.group() for text in every_text() if (m := re.search(rf"\b(?:{pattern})\b", text))}
    assert found == {}


def test_steps_begin_with_a_verb():
    verbs = {"Cut", "Score", "Turn", "Fold", "Put", "Glue", "Lay", "Hold", "Stick"}
    verbs |= {"Pierce", "Find", "Mark", "Fasten", "Push", "Spread"}
    for words in every_step_words():
        assert words.title.split()[0] in verbs, words.title
        assert words.text.split()[0] in verbs, words.text


def test_only_the_wording_modules_hold_words():
    """A second language needs another catalogue and no other code."""
    tree = ast.parse((PACKAGE / "teach" / "messages.py").read_text(encoding="utf-8"))
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef)
    docs = {ast.get_docstring(node, clean=False) for node in ast.walk(tree) if isinstance(node, documented)}
    texts = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    told = {text for text in texts - docs if re.search(r"[A-Za-z]\W* \W*[A-Za-z]", text)}
    assert told == {"one side", "wet glue"}  # values of the project file, not words of ours
