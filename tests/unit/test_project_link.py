"""The maker's link in a project file: https only, short, and part of what the project says."""

import pytest

from foldproof.errors import InputError
from foldproof.project.canonical import canonical
from foldproof.project.keys import MOST_LINK_CHARACTERS
from foldproof.project.read import read_project
from foldproof.project.write import new_project

PLAIN = new_project("double-wall tray", "Shells", "in", {"base_length": "3", "wall_height": "2"})


def linked(link):
    return PLAIN.replace('name = "Shells"', f'name = "Shells"\nlink = {link}', 1)


@pytest.mark.parametrize(
    "link",
    [
        "https://example.org",
        "https://example.org/box?a=1&b=%20#step-3",
        "https://shop.example.co.uk:8443/~ann/",
        "https://example.org/" + "x" * (MOST_LINK_CHARACTERS - 20),
    ],
)
def test_a_link_is_read(link):
    assert read_project(linked(f'"{link}"')).link == link
    assert read_project(linked(f'"  {link} "')).link == link


def test_none_is_none():
    assert read_project(PLAIN).link is None


@pytest.mark.parametrize(
    ("link", "reason"),
    [
        ('"http://example.org"', "https://"),
        ('"javascript:alert(1)"', "https://"),
        ('"https://user@example.org"', "https://"),
        ('"https://example"', "https://"),
        ('"https://example.org/a b"', "https://"),
        ('"https://example.org/\\u202e"', "https://"),
        ('""', "https://"),
        ('"https://example.org/' + "x" * MOST_LINK_CHARACTERS + '"', "characters"),
        ("7", "text"),
    ],
)
def test_what_is_no_link_is_told(link, reason):
    with pytest.raises(InputError) as caught:
        read_project(linked(link))
    (problem,) = caught.value.problems
    assert problem.field == "link" and reason in problem.reason


def test_a_link_changes_what_the_project_says():
    assert canonical(read_project(linked('"https://example.org"'))) != canonical(read_project(PLAIN))


def test_a_new_project_shows_how_to_write_one():
    assert '# link = "https://example.org/box"' in PLAIN
