"""What fitting found, for people and for programs, and the values as a maker would type them."""

from __future__ import annotations

from typing import Literal

from foldproof.checks.proof import Verdict
from foldproof.design.fit_answers import FitAnswer, Fitted, Goal
from foldproof.drawing.records import Block, Document, Heading, Paragraph, Table
from foldproof.errors import wrong
from foldproof.lengths import (
    CM_HALF_MILLIMETRES,
    INCH_THIRTYSECONDS,
    ZERO,
    Length,
    Ruler,
    about,
    both_units,
    round_to,
)
from foldproof.project.problems import field_path
from foldproof.project.records import Part, Project
from foldproof.views.report import Report, mm, report

TITLE = "Fit: {name}"
GOALS: dict[Goal, str] = {
    "largest base": "The largest base on this sheet",
    "smallest piece": "The smallest piece for these sizes",
    "hold the content": "A base that holds the content, with its ease",
    "whole sheet": "Sizes that use the whole sheet",
    "best hole": "The best place for the hole",
    "smallest lid": "The smallest lid of this shape that covers the box",
}
PART = "{part}: {goal}"
WORKS = "This works. The best answer stands first."
REASONS = {
    "content_too_large": "Nothing on this sheet holds the content: {short} is missing. This is the nearest.",
    "no_hole": "The hole has no place here that meets every limit. These come nearest, by {short}.",
    "no_lid": "No lid of this shape covers the box with its margin: {short} is missing at the largest size.",
    "no_owned": "None of the sizes you own covers the box with its margin: {short} is missing at the largest of them.",
    "not_filled": "No sizes use the whole sheet: at least {short} is left over. This is the nearest.",
    "off_stops": "No sizes lie on the grooves of your board. These lie on the marks of your ruler.",
    "piece_too_large": "The walls leave no room for a base on this sheet. With walls {short} lower it works.",
    "piece_too_large/smallest piece": "The piece is {short} longer than the sheet.",
}
AMONG = "Looked for among the sizes you own: {sizes}."
NOTHING = "Nothing that can be folded fits this sheet."
WITHOUT_ANSWERS = ("no_lid", "no_owned")  # told by what is missing, with nothing to show
ANSWER, PIECE, LEFT = "", "Piece", "Left over"
BEST, OTHER = "best", "or"
SIZE = "{width} x {height}"
VERDICT: dict[Verdict, str] = {
    "proved": "The best answer was tried: it is proved.",
    "not_proved": "The best answer was tried: it is not proved. Run `foldproof prove` on it.",
    "not_decided": "The best answer was tried: it is not decided. Run `foldproof prove` on it.",
}

FINER: dict[str, tuple[Ruler, ...]] = {"in": (INCH_THIRTYSECONDS,), "cm": (CM_HALF_MILLIMETRES,)}
MOST_PLACES = 4  # decimals of a millimetre that can be typed


def fit_document(project: Project, answers: tuple[FitAnswer, ...], verdict: Verdict | None) -> Document:
    """The answers to read, best first. ``verdict`` is that of the project with the best ones filled in, if tried."""
    blocks: list[Block] = []
    for answer in answers:
        goal = GOALS[answer.goal]
        heading = goal if len(_every_part(project)) == 1 else PART.format(part=answer.part, goal=goal)
        kind: Literal["text", "not_proved"] = "text" if answer.works else "not_proved"
        blocks += [Heading(text=heading, level=1), Paragraph(text=reason_words(project, answer), kind=kind)]
        if answer.among:
            blocks.append(Paragraph(text=among_words(project, answer)))
        if answer.answers:
            blocks.append(_table(project, answer))
    if verdict is not None:
        blocks.append(Paragraph(text=VERDICT[verdict], kind="check" if verdict == "proved" else "not_proved"))
    return Document(title=TITLE.format(name=project.name), blocks=tuple(blocks))


def reason_words(project: Project, answer: FitAnswer) -> str:
    """Whether it works, and if not, what is missing and by how much."""
    if not answer.answers and answer.reason not in WITHOUT_ANSWERS:
        return NOTHING
    if answer.works:
        return WORKS
    said = REASONS.get(f"{answer.reason}/{answer.goal}", REASONS[answer.reason])
    return said.format(short=_both(project, answer.short))


def among_words(project: Project, answer: FitAnswer) -> str:
    """The sizes that the lid's was chosen from."""
    return AMONG.format(sizes=", ".join(_both(project, size) for size in answer.among))


def _table(project: Project, answer: FitAnswer) -> Table:
    """A row for each answer; a value that is the same as the one it is tied to needs no column."""
    part = _part(project, answer)
    tied, open_names = dict(part.tied_values), part.open_values
    names = [name for name, _ in answer.answers[0].values if tied.get(name) not in open_names]
    columns = (ANSWER, *(name.replace("_", " ").capitalize() for name in names), PIECE, LEFT)
    rows = tuple(
        (BEST if fitted is answer.answers[0] else OTHER, *_row(project, fitted, names)) for fitted in answer.answers
    )
    return Table(title="", columns=columns, rows=rows)


def _row(project: Project, fitted: Fitted, names: list[str]) -> tuple[str, ...]:
    def size(width: Length, height: Length) -> str:
        return SIZE.format(width=about(width, project.ruler), height=about(height, project.ruler))

    values = dict(fitted.values)
    return (
        *(_both(project, values[name]) for name in names),
        size(fitted.width, fitted.height),
        size(fitted.spare_width, fitted.spare_height),
    )


def _part(project: Project, answer: FitAnswer) -> Part:
    return next(part for part in _every_part(project) if part.name == answer.part)


def _every_part(project: Project) -> tuple[Part, ...]:
    return (*project.parts, *(each.part for each in project.alternatives))


def _both(project: Project, value: Length | float) -> str:
    if not isinstance(value, Length):
        return DEGREES.format(degrees=value)
    return both_units(value, project.ruler, project.other_ruler)


def typed_values(project: Project, answer: FitAnswer) -> tuple[tuple[str, str], ...]:
    """(path in the file, text) for each value of the best answer; none that is the same as what it is tied to."""
    if not answer.answers:
        return ()
    part = _part(project, answer)
    heading = "parts" if part in project.parts else "alternatives"
    values = dict(answer.answers[0].values)
    tied = {name for name, other in part.tied_values if values.get(name) == values.get(other)}
    return tuple(
        (field_path(heading, part.name, name), exact_text(value, project))
        for name, value in values.items()
        if name not in tied
    )


def exact_text(value: Length, project: Project) -> str:
    """A length exactly, as a maker types it: on her ruler, on a finer one, or in millimetres."""
    for ruler in (project.ruler, *FINER[project.unit]):
        rounded = round_to(value, ruler)
        if rounded.error == ZERO:
            return rounded.text
    for places in range(MOST_PLACES + 1):
        if (value.mm * 10**places).denominator == 1:
            return f"{value.float_mm:.{places}f} mm"
    raise wrong(
        "board.stops", about(value, project.ruler), "gives sizes that no ruler has", "write grooves as on a ruler"
    )


# --- For programs -------------------------------------------------------------------------------------------


def fit_report(
    project: Project,
    answers: tuple[FitAnswer, ...],
    verdict: Verdict | None,
    written: str | None,
    stopped: bool = False,
) -> Report:
    """The answers as a report of kind ``fit``. ``written`` is the file the best values were put into, if any."""
    return report(
        "fit",
        project=project.name,
        verdict=verdict,
        stopped=stopped,
        written=written,
        parts=[_answer_report(project, answer) for answer in answers],
    )


def _answer_report(project: Project, answer: FitAnswer) -> Report:
    return {
        "name": answer.part,
        "goal": answer.goal,
        "works": answer.works,
        "reason": answer.reason,
        "reason_text": reason_words(project, answer),
        "short_mm": mm(answer.short),
        "short_text": _both(project, answer.short),
        "among_mm": [mm(size) for size in answer.among],
        "among_text": among_words(project, answer) if answer.among else "",
        "answers": [_fitted_report(project, fitted) for fitted in answer.answers],
    }


def _fitted_report(project: Project, fitted: Fitted) -> Report:
    return {
        "values": [
            {"name": name, "value_mm": mm(value), "text": _both(project, value)} for name, value in fitted.values
        ],
        "width_mm": mm(fitted.width),
        "height_mm": mm(fitted.height),
        "spare_width_mm": mm(fitted.spare_width),
        "spare_height_mm": mm(fitted.spare_height),
        "on_stops": fitted.on_stops,
        "text": SIZE.format(width=about(fitted.width, project.ruler), height=about(fitted.height, project.ruler)),
    }
