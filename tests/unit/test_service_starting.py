import pytest

from foldproof.errors import InputError
from foldproof.project.read import read_project
from foldproof.service.starting import (
    example_names,
    example_text,
    file_name,
    from_construction,
    from_example,
    read_settings,
)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Tidepool keepsake box", "tidepool-keepsake-box.toml"),
        ("../../x", "x.toml"),
        ("Bo\u00eete \u00e0 th\u00e9", "boite-a-the.toml"),
        ("\u05e7\u05d5\u05e4\u05e1\u05d4", "project.toml"),
        ("NUL", "project-nul.toml"),
        ("com1", "project-com1.toml"),
        ("x" * 80, f"{'x' * 60}.toml"),
        ("...", "project.toml"),
    ],
)
def test_file_names_are_plain(name, expected):
    assert file_name(name) == expected


def test_settings_are_read_and_all_wrong_ones_are_told():
    assert read_settings(("a=1", "b = 2 1/4", "c=x=y")) == {"a": "1", "b": "2 1/4", "c": "x=y"}
    with pytest.raises(InputError) as caught:
        read_settings(("a", "=1", "b=1", "b=2"))
    assert len(caught.value.problems) == 3


def test_values_go_to_their_tables():
    settings = {
        "base_length": "4",
        "parts.tray.wall_height": "1",
        "cardstock.weight": "300 gsm",
        "content.length": "3",
        "content.width": "2",
        "content.height": "1",
        "board.stops": "none",
        "maker": "Ann",
        "ruler": "1/8 in",
        "settings.finger_mm": "12",
    }
    project = read_project(from_construction("plain tray", "Mine", "in", settings))
    assert project.parts[0].open_values == ()
    assert project.cardstock.weight.gsm == 300
    assert project.content is not None
    assert project.board.stops == ()
    assert (project.maker, project.ruler.step.denominator, project.folding.finger_mm) == ("Ann", 8, 12.0)


def test_values_of_an_example_are_those_of_its_part():
    text = from_example("tidepool", "Mine", {"inner_wall": "2", "cardstock.sheet": "A4", "parts.tray.relief": "1/8"})
    project = read_project(text)
    assert project.name == "Mine"
    assert project.parts[0].values.inner_wall.float_mm == pytest.approx(50.8)
    assert project.cardstock.sheet.name == "A4"
    assert text.count("#") == example_text("tidepool").count("#")


def test_an_unknown_example_names_the_nearest():
    with pytest.raises(InputError, match="no example") as caught:
        example_text("tidepol")
    assert "tidepool" in caught.value.problems[0].remedy
    assert "tidepool" in example_names()


def test_examples_are_not_paths():
    with pytest.raises(InputError):
        example_text("../schemas/project.schema")
