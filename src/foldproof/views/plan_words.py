"""What a score plan says beside its pictures: the steps' titles, the sizes for the scissors, the readings."""

from __future__ import annotations

from foldproof.drawing.records import TextRole
from foldproof.lengths import ZERO, Length, about, both_units
from foldproof.pattern.measured import MeasuredPiece
from foldproof.stock.board import Mark as ScoreMark
from foldproof.stock.readings import Readings
from foldproof.views.board_picture import Tools
from foldproof.views.cut_picture import has_waste
from foldproof.words.catalogue import ENGLISH, Language

Said = tuple[str, TextRole]


def step_title(measured: MeasuredPiece, turned: bool, *, language: Language = ENGLISH) -> str:
    """The title of the scoring step, before the turn or after it."""
    marks = measured.up if turned else measured.across
    if not turned:
        return language.counted(language.paper.score_lines, len(marks))
    if not measured.across:
        forms = language.paper.turned_first_lines
    elif [m.marked for m in measured.across] == [m.marked for m in marks]:
        forms = language.paper.turned_same_lines
    else:
        forms = language.paper.turned_other_lines
    return language.counted(forms, len(marks))


def cut_title(measured: MeasuredPiece, *, language: Language = ENGLISH) -> str:
    """The title of the last step."""
    return language.paper.cut_away if has_waste(measured) else language.paper.trim_to_outline


def cut_lines(measured: MeasuredPiece, tools: Tools, *, language: Language = ENGLISH) -> tuple[Said, ...]:
    """Where the piece lies, and each size for the scissors that is not nothing."""
    said: list[Said] = [(language.paper.cut_away_turn, "label")] if measured.up else []
    for name, size in measured.measures:
        if size.shown == ZERO:
            continue
        template = language.paper.measure_texts.get(name, language.paper.measure_other)
        words = both_units(size.shown, tools.ruler, tools.other)
        said.append((template.format(name=name.replace("_", " "), size=words), "label"))
    if any(size.error != ZERO for _, size in measured.measures):
        said.append((language.paper.measures_rounded, "note"))
    return tuple(said)


def reading_lines(measured: MeasuredPiece, tools: Tools, *, language: Language = ENGLISH) -> tuple[Said, ...]:
    """The two ways of reading the list, and which is safe; once where both directions read alike."""
    across, up = measured.across, measured.up
    if not across and not up:
        return ()
    lists = [
        (language.paper.read_across, across, measured.readings_across),
        (language.paper.read_up, up, measured.readings_up),
    ]
    parts = [
        (step, *_reading(marks, readings, tools, language=language))
        for step, marks, readings in lists
        if readings is not None
    ]
    said: list[Said] = [(language.paper.read_title, "heading")]
    same = len({part[1:] for part in parts}) == 1
    for step, figures, _ in parts[:1] if same else parts:
        said += figures if same else [(f"{step}. {figures[0][0]}", figures[0][1]), *figures[1:]]
    outcomes = list(dict.fromkeys(outcome for _, _, outcome in parts))
    for outcome in outcomes:
        said += outcome
    return tuple(said)


def _reading(
    marks: tuple[ScoreMark, ...], readings: Readings, tools: Tools, *, language: Language = ENGLISH
) -> tuple[tuple[Said, ...], tuple[Said, ...]]:
    """The figures in both ways of reading, and what comes of them on the piece as it is."""
    intended = sum(readings.one_edge, ZERO) - readings.change
    turned_from = len(marks) - len(readings.from_far_edge)
    figures: list[Said] = [
        (language.paper.read_one_edge.format(sizes=_list([m.text for m in marks], language=language)), "label")
    ]
    if not readings.from_far_edge:
        figures.append((language.paper.read_no_turn, "label"))
        return tuple(figures), _outcome(readings, tools, language=language)
    far = [
        about(intended - m.marked, tools.ruler, words=language.told.common.about) for m in reversed(marks[turned_from:])
    ]
    near = [m.text for m in marks[:turned_from]]
    sizes = {
        "sizes": _list(near, language=language) if near else language.paper.none,
        "turned": _list(far, language=language),
    }
    figures.append((language.paper.read_each_edge.format(**sizes), "label"))
    return tuple(figures), _outcome(readings, tools, language=language)


def _outcome(readings: Readings, tools: Tools, *, language: Language = ENGLISH) -> tuple[Said, ...]:
    def words(length: Length) -> str:
        return about(length, tools.ruler, words=language.told.common.about)

    if readings.change == ZERO:
        return ((language.paper.read_same, "label"),) if readings.from_far_edge else ()
    off = language.paper.read_short if readings.change < ZERO else language.paper.read_long
    said: list[Said] = [(off.format(size=words(abs(readings.change))), "heading")]
    one, each = readings.one_edge_panel, readings.each_edge_panel
    meant = readings.one_edge[one] - readings.change, readings.each_edge[each] - readings.change
    said.append(
        (language.paper.read_change_one.format(real=words(readings.one_edge[one]), meant=words(meant[0])), "label")
    )
    if readings.safer == "same":
        return tuple(said)
    strip = _strip(each, len(readings.each_edge), language=language)
    change = language.paper.read_change_each.format(
        strip=strip, real=words(readings.each_edge[each]), meant=words(meant[1])
    )
    safe = language.paper.read_safe_one if readings.safer == "one edge" else language.paper.read_safe_each
    said += [(change, "label"), (safe, "size")]
    if readings.change > ZERO:
        said.append((language.paper.read_trim.format(size=words(readings.change)), "label"))
    return tuple(said)


def _strip(index: int, count: int, *, language: Language = ENGLISH) -> str:
    if count % 2 and index == count // 2:
        return language.paper.strip_middle
    return language.paper.strip_number.format(number=index + 1, count=count)


def _list(sizes: list[str], *, language: Language = ENGLISH) -> str:
    """'1 1/2, 3 3/4, 7 in': the unit once, where all share it."""
    units = {size.rsplit(" ", 1)[1] for size in sizes}
    if len(units) > 1:
        return language.paper.list_join.join(sizes)
    *head, last = sizes
    return language.paper.list_join.join([*(size.rsplit(" ", 1)[0] for size in head), last])
