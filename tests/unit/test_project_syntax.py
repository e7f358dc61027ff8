"""From text to tables: where a file breaks, in words, and what is refused before it is read."""

import pytest

from foldproof.errors import InputError
from foldproof.project.syntax import MOST_FILE_CHARACTERS, MOST_NESTING, parse_toml


def problem_of(text):
    """The one problem a broken text has."""
    with pytest.raises(InputError) as caught:
        parse_toml(text)
    (problem,) = caught.value.problems
    return problem


@pytest.mark.parametrize(
    ("text", "field", "words"),
    [
        ("a = 1\nb = 3 1/4\n", "line 2, column 7", "goes on after its value"),
        ("a = 1\na = 2\n", "line 2, column 6", "already there"),
        ("[a]\n[a]\n", "line 2, column 3", "already there"),
        ("a = {b = 1, b = 2}", "line 1, column 18", "already there"),
        ("a =\n", "line 1, column 4", "cannot be read"),
        ("a = pink\n", "line 1, column 5", "cannot be read"),
        ("just words\n", "line 1, column 6", "no ="),
        ('a = "open\n', "line 1, column 10", "cannot stand there"),
        ('a = "open', "line 1, column 10", "does not end"),
        ("\n\na = [1, 2", "line 3, column 10", "does not end"),
        ("ä = 1\n", "line 1, column 1", ""),
        ('a = "\\q"\n', "line 1, column 8", "lone \\"),
    ],
)
def test_where_and_why_a_file_breaks(text, field, words):
    problem = problem_of(text)
    assert problem.field == field
    assert words in problem.reason
    assert problem.remedy
    assert problem.value == (text.split("\n")[int(field[5]) - 1]).strip()


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm():
    assert parse_toml("\ufeffa = 1\r\nb = 2\r\n") == {"a": 1, "b": 2}


def nested_lists(depth):
    """A key with lists in lists; the outermost counts as one."""
    return f"a = {'[' * depth}{']' * depth}\n"


def test_nesting_up_to_the_limit():
    assert parse_toml(nested_lists(MOST_NESTING))
    assert "deep" in problem_of(nested_lists(MOST_NESTING + 1)).reason


def test_dotted_keys_up_to_the_limit():
    assert parse_toml(".".join(["a"] * MOST_NESTING) + " = 1")
    assert "deep" in problem_of(".".join(["a"] * (MOST_NESTING + 1)) + " = 1").reason
    assert "deep" in problem_of(" . ".join(['"a b"'] * (MOST_NESTING + 1)) + " = 1").reason


def test_tables_in_tables_are_counted_over_all_lines():
    half = ".".join(["a"] * 12)
    assert "deep" in problem_of(f"[{half}]\n{half} = 1\n").reason


@pytest.mark.parametrize("quote", ['"', "'", '"""', "'''"])
def test_brackets_and_dots_inside_text_are_not_structure(quote):
    inside = "[" * 50 + ".a" * 50
    assert parse_toml(f"a = {quote}{inside}{quote}\n# {inside}\nb = 1") == {"a": inside, "b": 1}


def test_the_longest_text():
    head = "a = 1\n#"
    longest = head + "x" * (MOST_FILE_CHARACTERS - len(head))
    assert parse_toml(longest) == {"a": 1}
    assert "too long" in problem_of(longest + "x").reason
