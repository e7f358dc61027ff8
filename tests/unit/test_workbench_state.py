"""What the page shows of a project at once: every example has it, and every value can be reached by clicking."""

import dataclasses
import json
import re

import pytest

from foldproof.constructions.alternative_lid import alternative_values
from foldproof.constructions.catalogue import CONSTRUCTIONS
from foldproof.constructions.parameters import OPEN, values_of
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.design.workbench.building import built, without
from foldproof.design.workbench.fitting import GOALS, OTHERS, SHAPES, fitted, goals_of, other_lids
from foldproof.design.workbench.state import state_of
from foldproof.errors import InputError
from foldproof.folding.limits import FoldingLimits
from foldproof.outlines.catalogue import FORMULAS
from foldproof.progress import unwatched
from foldproof.project.keys import BOARD_KEYS, CARDSTOCK_KEYS, CONTENT_KEYS, PAPERS_KEYS, PROJECT_KEYS, TEACH_KEYS
from foldproof.project.problems import field_path
from foldproof.project.read import read_project
from foldproof.project.read_settings import setting_facts
from foldproof.project.settings import CheckLimits
from foldproof.project.write import with_change
from foldproof.service.starting import example_names, example_text
from foldproof.service.workbench.beginning import family_text
from foldproof.web.page_desk import desk_page
from foldproof.words.catalogue import ENGLISH, language_of, texts

BOX = example_text("tidepool")
ELSEWHERE = {"format", "name", "unit"}  # a project's name has its field; its unit is chosen when it begins
DISC = (("alternatives.disc.shape", "disc"), ("alternatives.disc.across", "5 1/2"))


def with_changes(text, *changes):
    for path, value in changes:
        text = with_change(text, path, value)
    return text


def phrases(state):
    """Every phrase of the sentence and of the small print, by its path."""
    all_of = [*state["sentence"], *(row for group in state["more"] for row in group["phrases"])]
    return {each["phrase"]: each for each in all_of if each.get("phrase")}


def said(state):
    return "".join(part["text"] for part in state["sentence"])


def texts_of(unit="in"):
    return [
        *(example_text(name) for name in example_names()),
        *(family_text(each.name, unit, "") for each in CONSTRUCTIONS),
        with_changes(BOX, *DISC),
    ]


@pytest.mark.parametrize("text", texts_of() + texts_of("cm"))
def test_every_design_has_a_sentence_its_measures_and_its_sheets(text):
    project = read_project(text)
    state = state_of(text)
    json.dumps(state, allow_nan=False)
    assert not state["problems"]
    assert said(state).startswith("A ") and said(state).endswith(".")
    assert "{" not in said(state) and "|" not in said(state)
    assert state["recipe"] and state["sheets"]
    lids = [part.name for part in project.parts if part.on] + [each.name for each in project.alternatives]
    assert [lid["part"] for lid in state["lids"]] == lids


@pytest.mark.parametrize("text", texts_of())
def test_every_value_can_be_reached_by_clicking(text):
    """Each has a control once, in the sentence or in the small print: what the file can say the page can say."""
    text = built(text, read_project(text), "add_papers", "", 0) if "[papers]" not in _bare(text) else text
    text = built(text, read_project(text), "add_content", "", 0) if "[content]" not in _bare(text) else text
    project = read_project(text)
    wanted = []
    for part in project.parts:
        for value in values_of(part.construction.parameters):
            wanted += _paths("parts", part, value)
    for each in project.alternatives:
        for value in alternative_values():
            wanted += _paths("alternatives", each.part, value) if value.kind != "list" else ()
    tables = {
        "": PROJECT_KEYS,
        "cardstock": CARDSTOCK_KEYS,
        "board": BOARD_KEYS,
        "papers": PAPERS_KEYS,
        "content": CONTENT_KEYS,
        "teach": TEACH_KEYS,
    }
    wanted += [".".join(filter(None, (table, key.name))) for table, keys in tables.items() for key in keys]
    wanted += [f"settings.{field.name}" for record in (CheckLimits, FoldingLimits) for field in setting_facts(record)]
    state = state_of(text)
    assert set(phrases(state)) == set(wanted) - ELSEWHERE
    for path, phrase in phrases(state).items():
        assert phrase["text"] and phrase["control"]["label"] and phrase["control"]["path"] == path


def _paths(heading, part, value):
    if value.kind != "list":
        return [field_path(heading, part.name, value.name)]
    rows = range(1, len(getattr(part.values, value.name)) + 1)
    return [
        field_path(heading, part.name, value.name, str(n), each.name) for n in rows for each in values_of(value.record)
    ]


def _bare(text):
    return "\n".join(line for line in text.splitlines() if not line.startswith("#"))


@pytest.mark.parametrize("text", texts_of())
def test_what_a_control_shows_can_be_typed_back(text):
    """The text that stands in a field, sent as it stands, makes the same project."""
    shown = {path: phrase["control"]["value"] for path, phrase in phrases(state_of(text)).items()}
    typed = with_changes(text, *((path, value) for path, value in shown.items() if path.startswith("parts.") and value))
    before, after = read_project(text), read_project(typed)
    assert [part.values for part in after.parts] == [part.values for part in before.parts]


# --- Another language ---------------------------------------------------------------------------------------

ACCENTED = str.maketrans("aeioucnsty", "áéíóúçñśťý")
NAMED = re.compile(r"(\{[^}]*\})")
OWN = {key: text for key, text in texts().items() if key.startswith("workbench.")}


def pseudo(text):
    """The text in other letters; what it names stays."""
    return "".join(part if at % 2 else part.translate(ACCENTED) for at, part in enumerate(NAMED.split(text)))


def strings(told):
    if isinstance(told, dict):
        return {text for each in told.values() for text in strings(each)}
    if isinstance(told, list):
        return {text for each in told for text in strings(each)}
    return {told} if isinstance(told, str) else set()


def test_every_text_of_the_workbench_can_be_in_another_language():
    other = language_of("xx", {key: pseudo(text) for key, text in OWN.items()})
    assert texts(other).keys() == texts().keys()
    text = built(with_changes(BOX, *DISC), read_project(with_changes(BOX, *DISC)), "add_papers", "", 0, language=other)
    assert pseudo("patterned paper") in text
    state = state_of(text, language=other)
    english = {text for text in OWN.values() if pseudo(text) != text}
    # What the maker writes in her file is the same in every language: units, and names of choices.
    same = {"square", "one side", "centimetres", "none", "patterned paper"}
    assert (strings(state) & english) - same == set()
    assert "Á" in said(state) or "á" in said(state)
    page = desk_page("box", state, {}, language=other)
    assert other.workbench.page["fold"] in page and ENGLISH.workbench.page["fold"] not in page
    assert 'lang="xx"' in page


def test_what_follows_a_phrase_is_said_unless_it_is_left_open():
    assert "2 1/4 in tall" in said(state_of(BOX))
    assert "be tall" not in said(state_of(with_change(BOX, "parts.tray.wall_height", OPEN)))


# --- What is open, what cannot be ---------------------------------------------------------------------------


def test_a_value_left_open_is_worked_out_and_says_so():
    state = state_of(with_change(BOX, "parts.tray.wall_height", OPEN))
    found = state["open"]["parts.tray.wall_height"]
    assert found["works"] and found["text"].endswith("in") and found["other"].endswith("cm") and found["why"]
    assert "as tall as it can be" in said(state)
    phrase = phrases(state)["parts.tray.wall_height"]
    assert (phrase["state"], phrase["control"]["worked_out"]) == ("open", found["text"])
    assert state["recipe"], "and it is measured with what was found"
    fixed = state_of(with_change(BOX, "parts.tray.wall_height", found["typed"]))
    assert (fixed["open"], fixed["recipe"]) == ({}, state["recipe"])


def test_an_alternative_left_open_is_worked_out_too():
    text = with_changes(BOX, *DISC, ("alternatives.disc.hole_from_corner", OPEN))
    state = state_of(text)
    found = state["open"]["alternatives.disc.hole_from_corner"]
    assert found["works"] and found["text"]
    assert [lid["part"] for lid in state["lids"]] == ["lid", "disc"]


def test_what_an_alternative_leaves_out_is_as_the_lid():
    rows = phrases(state_of(with_changes(BOX, *DISC)))
    assert rows["alternatives.disc.shape"]["state"] == "given"
    assert rows["alternatives.disc.fastener"]["state"] == "usual"
    assert rows["alternatives.disc.fastener"]["text"] == rows["parts.lid.fastener"]["text"]
    assert rows["alternatives.disc.across"]["control"]["may_be_left_out"]


def test_what_cannot_be_made_is_told_at_its_value():
    state = state_of(with_changes(BOX, ("parts.tray.base_length", "20"), ("parts.tray.wall_height", OPEN)))
    assert state["problems"] and all(each["reason"] and each["remedy"] for each in state["problems"])
    assert (state["recipe"], state["sheets"], state["lids"]) == ([], [], [])
    assert said(state), "the sentence is there, to be changed"


def test_a_file_that_cannot_be_read_is_told_as_a_whole():
    with pytest.raises(InputError) as told:
        state_of(with_changes(BOX, ("parts.tray.wall_height", "a banana"), ("cardstock.sheet", "a pear")))
    assert {each.field for each in told.value.problems} == {"parts.tray.wall_height", "cardstock.sheet"}


# --- Adding and taking off ----------------------------------------------------------------------------------


def ways(text):
    return [(way["do"], way["part"], way["number"]) for way in state_of(text)["build"]]


@pytest.mark.parametrize("text", texts_of())
def test_every_way_that_is_offered_can_be_gone_and_gone_back(text):
    for do, part, number in ways(text):
        changed = built(text, read_project(text), do, part, number)
        state_of(changed)
        assert changed != text
        assert (do, part, number) not in ways(changed) or do.endswith("layer"), do


def test_what_is_not_offered_is_refused():
    project = read_project(BOX)
    for asked in [
        ("add_lid", "tray", 0),
        ("take_off_layer", "lid", 99),
        ("burn", "", 0),
        ("take_off_alternative", "lid", 0),
    ]:
        with pytest.raises(InputError):
            built(BOX, project, *asked)


def test_a_lid_taken_off_takes_its_alternatives_with_it():
    text = with_changes(BOX, *DISC)
    without_lid = built(text, read_project(text), "take_off_lid", "lid", 0)
    assert not read_project(without_lid).alternatives
    without_disc = built(text, read_project(text), "take_off_alternative", "disc", 0)
    assert read_project(without_disc) == read_project(BOX)
    assert "alternatives" not in _bare(without_disc)


def test_a_value_taken_out_is_as_usual_and_leaves_nothing_behind():
    changed = with_changes(BOX, ("settings.cover_fail_mm", "2.5"), ("teach.hand", "left"))
    back = without(without(changed, "settings.cover_fail_mm"), "teach.hand")
    assert dataclasses.replace(read_project(back)) == read_project(BOX)
    assert "cover_fail_mm" not in back and "[settings]" not in back
    assert without(BOX, "parts.lid.no_such_value") == BOX
    assert without(BOX, "nothing.like.it") == BOX
    with pytest.raises(InputError):
        without(BOX, "parts.lid")


# --- Wishes -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", example_names())
def test_every_wish_that_is_offered_is_answered_and_its_answers_can_be_taken(name):
    text = example_text(name)
    offered = goals_of(read_project(text))
    assert {each["goal"] for each in offered} <= {*GOALS, SHAPES, OTHERS}
    for wish in offered:
        if wish["goal"] in (SHAPES, OTHERS):
            continue
        told = fitted(text, wish["part"], wish["goal"])
        assert told["title"] and told["notes"], wish
        for row in told["rows"]:
            changed = with_changes(text, *((each["path"], each["value"]) for each in row["changes"]))
            read_project(changed)


def test_other_shapes_for_a_lid_are_proved_and_can_be_offered_once(monkeypatch):
    some = tuple(each for each in FORMULAS if each.name in ("disc", "heart", "rosette"))
    monkeypatch.setattr("foldproof.design.other_shapes.FORMULAS", some)
    told = other_lids(BOX, "lid", unwatched)
    assert told["works"] and [row["cells"][0] for row in told["rows"]] == ["disc", "heart"]
    changes = [(each["path"], each["value"]) for each in told["rows"][0]["changes"]]
    assert ("alternatives.disc.shape", "disc") in changes
    text = with_changes(BOX, *changes)
    (disc,) = read_project(text).alternatives
    proof = prove(measure(read_project(text)))
    assert proof.alternatives[0].verdict == "proved"
    again = other_lids(text, "lid", unwatched)
    assert not again["rows"][0]["changes"] and again["rows"][1]["changes"], "a name is taken once"
    with pytest.raises(InputError):
        other_lids(example_text("storm-tray"), "tray", unwatched)
    assert disc.of == "lid"


@pytest.mark.parametrize("asked", [("tray", "world peace"), ("no such part", "largest base")])
def test_a_wish_that_cannot_be_asked_for_is_refused(asked):
    with pytest.raises(InputError):
        fitted(BOX, *asked)
