"""Merging independent edits is making both; edits that are not independent are never decided in silence."""

import copy
import string
from importlib import resources

import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from foldproof.design.merging import merge
from foldproof.design.sequences import merge_sequences
from foldproof.design.text_edits import MISSING, Edit, edits_between, is_rows, same, told_path, with_edits
from foldproof.project.syntax import parse_toml

EXAMPLE = (resources.files("foldproof") / "examples" / "gale-lid.toml").read_text(encoding="utf-8")

keys = st.text(string.ascii_lowercase + "_", min_size=1, max_size=4)
plain = (
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00\x7f"), max_size=6)
    | st.integers(-9, 9)
    | st.booleans()
    | st.floats(allow_nan=True, width=16)
    | st.lists(st.integers(0, 3), max_size=3)
)
flat = st.dictionaries(keys, plain, max_size=4)
tables = st.dictionaries(
    keys,
    plain | st.dictionaries(keys, plain | flat, max_size=3) | st.lists(flat.filter(bool), min_size=1, max_size=4),
    max_size=5,
)


def leaves(table, path=()):
    """The path of every value, rows of lists of headings among the steps."""
    for key, value in table.items():
        if isinstance(value, dict):
            yield from leaves(value, (*path, key))
        elif is_rows(value):
            for place, row in enumerate(value):
                yield from leaves(row, (*path, key, place))
        else:
            yield (*path, key)


def with_values(table, changes):
    """The table with some values set or, for MISSING, taken out; changes are by path."""
    table = copy.deepcopy(table)
    for path, value in changes.items():
        where = table
        for step in path[:-1]:
            where = where[step]
        if value is MISSING:
            del where[path[-1]]
        else:
            where[path[-1]] = value
    return table


def in_text(text, changes):
    edits = tuple(Edit(path=path, before=None, after=value) for path, value in changes.items())
    return with_edits(text, edits)


@st.composite
def two_hands(draw):
    """A file, and changes by two hands to different values."""
    text = draw(st.just(EXAMPLE) | tables.map(tomlkit.dumps))
    base = parse_toml(text)
    paths = sorted(leaves(base), key=str)
    changed = draw(st.lists(st.sampled_from(paths), unique=True, max_size=8)) if paths else []
    value = plain | st.just(MISSING)
    changes = [(path, draw(value)) for path in changed if path != ("unit",)]
    cut = draw(st.integers(0, len(changes)))
    return text, dict(changes[:cut]), dict(changes[cut:])


@given(two_hands())
def test_independent_edits_are_both_made(hands):
    text, mine, theirs = hands
    base = parse_toml(text)
    merged = merge(text, in_text(text, mine), in_text(text, theirs))
    assert merged.clashes == ()
    # A row of which every value was taken out is a row still.
    assert same(parse_toml(merged.text), with_values(base, mine | theirs))


@given(two_hands())
def test_it_does_not_matter_who_was_first(hands):
    text, mine, theirs = hands
    one = merge(text, in_text(text, mine), in_text(text, theirs))
    other = merge(text, in_text(text, theirs), in_text(text, mine))
    assert same(parse_toml(one.text), parse_toml(other.text))


@given(two_hands())
def test_one_hand_alone_is_never_touched(hands):
    text, mine, _ = hands
    edited = in_text(text, mine)
    assert merge(text, edited, text).text == edited
    assert merge(text, text, edited).text == edited
    assert merge(text, edited, edited).text == edited


@given(tables, tables, tables)
def test_every_value_of_a_merge_is_one_of_the_three_and_clashes_are_settled_by_choice(base, mine, theirs):
    texts = [tomlkit.dumps(each) for each in (base, mine, theirs)]
    merged = merge(*texts)
    if not merged.clashes:
        found = parse_toml(merged.text)
        for key in {*base, *mine, *theirs}:
            sides = [each.get(key, MISSING) for each in (base, mine, theirs)]
            if same(sides[0], sides[1]):
                assert same(found.get(key, MISSING), sides[2])
            if same(sides[0], sides[2]):
                assert same(found.get(key, MISSING), sides[1])
        return
    assert merged.text == texts[2]
    for clash in merged.clashes:
        assert clash.mine != clash.theirs or clash.mine is not None
    for whose, side in (("mine", 1), ("theirs", 2)):
        settled = merge(*texts, choices={clash.path: whose for clash in merged.clashes})
        assert settled.clashes == ()
        for clash in merged.clashes:
            if "." not in clash.path and '"' not in clash.path:
                key = clash.path
                assert same(parse_toml(settled.text).get(key, MISSING), (base, mine, theirs)[side].get(key, MISSING))


@given(tables, tables)
def test_edits_between_two_files_make_one_of_the_other(before, after):
    text = tomlkit.dumps(before)
    assert same(parse_toml(with_edits(text, edits_between(before, after))), after)


@given(st.lists(st.integers(0, 3), max_size=8), st.lists(st.integers(0, 3), max_size=8))
def test_a_list_that_one_changed_is_taken_from_the_one(base, changed):
    for mine, theirs in ((changed, base), (base, changed)):
        taken = merge_sequences(base, mine, theirs)
        sides = {"base": base, "mine": mine, "theirs": theirs}
        assert [sides[each.whose][each.place] for each in taken] == changed


@given(st.lists(st.integers(), unique=True, min_size=1, max_size=8), st.data())
def test_additions_and_removals_at_different_places_are_both_made(base, data):
    """Items are all different, so each hand's change can be told from the list alone."""
    places = data.draw(st.lists(st.integers(0, len(base) - 1), unique=True, max_size=len(base)))
    cut = data.draw(st.integers(0, len(places)))
    gone = {"mine": set(places[:cut]), "theirs": set(places[cut:])}
    sides = {whose: [x for at, x in enumerate(base) if at not in out] for whose, out in gone.items()}
    new = object()
    sides["mine"] = [*sides["mine"], new] if gone["theirs"].isdisjoint({len(base) - 1}) else sides["mine"]
    taken = merge_sequences(base, sides["mine"], sides["theirs"])
    assert taken is not None
    found = [{"base": base, **sides}[each.whose][each.place] for each in taken]
    wanted = [x for at, x in enumerate(base) if at not in places]
    assert found == (wanted + [new] if new in sides["mine"] else wanted)


def test_paths_are_told_as_makers_write_them():
    assert told_path(("parts", "lid", "layers", 0, "across")) == "parts.lid.layers.1.across"
