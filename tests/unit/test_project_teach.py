"""The settings under [teach]: read, written, explained and part of the hash."""

import tomllib

import jsonschema
import pytest

from foldproof.errors import InputError
from foldproof.project.canonical import canonical
from foldproof.project.read import read_project
from foldproof.project.schema import project_schema
from foldproof.project.write import new_project, with_change

GOOD = new_project("double-wall tray", "Shells", "in", {"base_length": "3", "wall_height": "2"})


def with_lines(*lines):
    return GOOD.replace("[teach]", "[teach]\n" + "\n".join(lines) + "\n#", 1)


def test_usual_is_the_right_hand_and_the_full_version():
    teach = read_project(GOOD).teach
    assert (teach.hand, teach.version) == ("right", "full")
    bare = "\n".join(line for line in GOOD.splitlines() if "[teach]" not in line)
    assert read_project(bare).teach == teach


def test_a_new_file_shows_both_settings_with_their_choices():
    assert '# hand = "right"' in GOOD and ": \"right\" or \"left\"" in GOOD
    assert '# version = "full"' in GOOD and ": \"full\" or \"class\"" in GOOD


@pytest.mark.parametrize(("hand", "version"), [("left", "full"), ("right", "class"), ("left", "class")])
def test_what_is_written_is_read(hand, version):
    text = with_change(with_change(GOOD, "teach.hand", hand), "teach.version", version)
    teach = read_project(text).teach
    assert (teach.hand, teach.version) == (hand, version)


@pytest.mark.parametrize("line", ['hand = "both"', "hand = 1", 'version = "CLASSES"', 'hands = "left"', "grade = 5"])
def test_reading_and_schema_refuse_the_same(line):
    text = with_lines(line)
    with pytest.raises(InputError) as caught:
        read_project(text)
    assert [problem.field.split(".")[0] for problem in caught.value.problems] == ["teach"]
    assert not jsonschema.Draft202012Validator(project_schema()).is_valid(tomllib.loads(text))


def test_the_schema_takes_what_reading_takes():
    text = with_lines('hand = "left"', 'version = "class"')
    assert read_project(text).teach.hand == "left"
    assert jsonschema.Draft202012Validator(project_schema()).is_valid(tomllib.loads(text))


def test_both_are_in_the_canonical_text_always():
    lines = canonical(read_project(GOOD)).splitlines()
    assert 'project.teach.hand = "right"' in lines and 'project.teach.version = "full"' in lines
    texts = {
        canonical(read_project(with_lines(f'hand = "{hand}"', f'version = "{version}"')))
        for hand in ("right", "left")
        for version in ("full", "class")
    }
    assert len(texts) == 4
