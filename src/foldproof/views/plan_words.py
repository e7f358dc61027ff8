"""What a score plan says beside its pictures: the steps' titles, the sizes for the scissors, the readings."""

from __future__ import annotations

from foldproof.drawing.records import TextRole
from foldproof.lengths import ZERO, Length, about, both_units
from foldproof.pattern.measured import MeasuredPiece
from foldproof.stock.board import Mark as ScoreMark
from foldproof.stock.readings import Readings
from foldproof.views import wording
from foldproof.views.board_picture import Tools
from foldproof.views.cut_picture import has_waste

Said = tuple[str, TextRole]


def step_title(measured: MeasuredPiece, turned: bool) -> str:
    """The title of the scoring step, before the turn or after it."""
    marks = measured.up if turned else measured.across
    one = len(marks) == 1
    if not turned:
        return wording.ONE_SCORE if one else wording.SCORES.format(count=len(marks))
    if not measured.across:
        text = wording.TURNED_FIRST_ONE if one else wording.TURNED_FIRST
    elif [m.marked for m in measured.across] == [m.marked for m in marks]:
        text = wording.TURNED_SAME_ONE if one else wording.TURNED_SAME
    else:
        text = wording.TURNED_OTHER_ONE if one else wording.TURNED_OTHER
    return text.format(count=len(marks))


def cut_title(measured: MeasuredPiece) -> str:
    """The title of the last step."""
    return wording.CUT_AWAY if has_waste(measured) else wording.TRIM_TO_OUTLINE


def cut_lines(measured: MeasuredPiece, tools: Tools) -> tuple[Said, ...]:
    """Where the piece lies, and each size for the scissors that is not nothing."""
    said: list[Said] = [(wording.CUT_AWAY_TURN, "label")] if measured.up else []
    for name, size in measured.measures:
        if size.shown == ZERO:
            continue
        template = wording.MEASURE_TEXTS.get(name, wording.MEASURE_OTHER)
        words = both_units(size.shown, tools.ruler, tools.other)
        said.append((template.format(name=name.replace("_", " "), size=words), "label"))
    if any(size.error != ZERO for _, size in measured.measures):
        said.append((wording.MEASURES_ROUNDED, "note"))
    return tuple(said)


def reading_lines(measured: MeasuredPiece, tools: Tools) -> tuple[Said, ...]:
    """The two ways of reading the list, and which is safe; once where both directions read alike."""
    across, up = measured.across, measured.up
    if not across and not up:
        return ()
    lists = [(wording.READ_ACROSS, across, measured.readings_across), (wording.READ_UP, up, measured.readings_up)]
    parts = [(step, *_reading(marks, readings, tools)) for step, marks, readings in lists if readings is not None]
    said: list[Said] = [(wording.READ_TITLE, "heading")]
    same = len({part[1:] for part in parts}) == 1
    for step, figures, _ in parts[:1] if same else parts:
        said += figures if same else [(f"{step}. {figures[0][0]}", figures[0][1]), *figures[1:]]
    outcomes = list(dict.fromkeys(outcome for _, _, outcome in parts))
    for outcome in outcomes:
        said += outcome
    return tuple(said)


def _reading(
    marks: tuple[ScoreMark, ...], readings: Readings, tools: Tools
) -> tuple[tuple[Said, ...], tuple[Said, ...]]:
    """The figures in both ways of reading, and what comes of them on the piece as it is."""
    intended = sum(readings.one_edge, ZERO) - readings.change
    turned_from = len(marks) - len(readings.from_far_edge)
    figures: list[Said] = [(wording.READ_ONE_EDGE.format(sizes=_list([m.text for m in marks])), "label")]
    if not readings.from_far_edge:
        figures.append((wording.READ_NO_TURN, "label"))
        return tuple(figures), _outcome(readings, tools)
    far = [about(intended - m.marked, tools.ruler) for m in reversed(marks[turned_from:])]
    near = [m.text for m in marks[:turned_from]]
    sizes = {"sizes": _list(near) if near else wording.NONE, "turned": _list(far)}
    figures.append((wording.READ_EACH_EDGE.format(**sizes), "label"))
    return tuple(figures), _outcome(readings, tools)


def _outcome(readings: Readings, tools: Tools) -> tuple[Said, ...]:
    def words(length: Length) -> str:
        return about(length, tools.ruler)

    if readings.change == ZERO:
        return ((wording.READ_SAME, "label"),) if readings.from_far_edge else ()
    off = wording.READ_SHORT if readings.change < ZERO else wording.READ_LONG
    said: list[Said] = [(off.format(size=words(abs(readings.change))), "heading")]
    one, each = readings.one_edge_panel, readings.each_edge_panel
    meant = readings.one_edge[one] - readings.change, readings.each_edge[each] - readings.change
    said.append((wording.READ_CHANGE_ONE.format(real=words(readings.one_edge[one]), meant=words(meant[0])), "label"))
    if readings.safer == "same":
        return tuple(said)
    strip = _strip(each, len(readings.each_edge))
    change = wording.READ_CHANGE_EACH.format(strip=strip, real=words(readings.each_edge[each]), meant=words(meant[1]))
    safe = wording.READ_SAFE_ONE if readings.safer == "one edge" else wording.READ_SAFE_EACH
    said += [(change, "label"), (safe, "size")]
    if readings.change > ZERO:
        said.append((wording.READ_TRIM.format(size=words(readings.change)), "label"))
    return tuple(said)


def _strip(index: int, count: int) -> str:
    if count % 2 and index == count // 2:
        return wording.STRIP_MIDDLE
    return wording.STRIP_NUMBER.format(number=index + 1, count=count)


def _list(sizes: list[str]) -> str:
    """'1 1/2, 3 3/4, 7 in': the unit once, where all share it."""
    units = {size.rsplit(" ", 1)[1] for size in sizes}
    if len(units) > 1:
        return wording.LIST_JOIN.join(sizes)
    *head, last = sizes
    return wording.LIST_JOIN.join([*(size.rsplit(" ", 1)[0] for size in head), last])
