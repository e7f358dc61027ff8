"""Every word Foldproof says: codes and values in, sentences out.

The sentences stand in ``words``, one catalogue for each language; nothing here is in any language.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.checks import content, lid, turning, turning_edges, turning_fastener
from foldproof.checks.proof import Assumption, Verdict
from foldproof.constructions.plain_tray import LID, TRAY
from foldproof.errors import Problem
from foldproof.findings import Change, Finding, Severity
from foldproof.lengths import Length, LengthError, parse_length, written_unit
from foldproof.teach.steps import FoldingStep
from foldproof.words.lengths import (
    ABOUT_MM,
    Speech,
    area_pair,
    area_words,
    exact_length,
    length_pair,
    length_words,
    mass_words,
    number_pair,
    plain_number,
    short_length,
)
from foldproof.words.numbers import OTHER, Numbers, counted_form
from foldproof.words.records import Catalogue, Counted, Said, StepWording
from foldproof.words.told import TOLD

ENGLISH = TOLD

STATES = {
    Severity.HOLDS: "holds",
    Severity.LOOK: "look",
    Severity.UNDECIDED: "undecided",
    Severity.FAILS: "fails",
}
MOST_NAMED = 2  # parts named in one sentence; the rest are counted
MOST_TITLES = 3  # findings named under the verdict; their number is always told
MOST_SIZES = 4  # sizes named in one sentence; with more they stand on the templates
FOUR = 4  # a tray's parts come in fours
TWO_SIDES = ("cut_piece", "lid_cut_triangle")  # steps whose lengths are the two sides of one piece
TURNS = ("opened_deg", "left_deg", "right_deg", "angle_deg")  # values that are turns of a lid, with a sense


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingWords:
    """A finding for people: what was found, its number and limit, why it matters, and its state in words."""

    title: str
    measured: str
    limit: str
    why: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictWords:
    """The verdict as a headline and the line under it."""

    headline: str
    line: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepWords:
    """One step for people. ``caution`` is None where nothing can hurt or smear."""

    title: str
    text: str
    check: str
    if_not: str
    caution: str | None = None


# --- Parts --------------------------------------------------------------------------------------------------


def piece_words(piece_id: str, catalogue: Catalogue = ENGLISH) -> str:
    """A piece by its id: 'the tray'."""
    return catalogue.pieces.get(piece_id) or _unknown_part(piece_id, catalogue)


def words_for_part(panel_id: str, catalogue: Catalogue = ENGLISH) -> str:
    """A part by its panel id: 'the back wall', 'the back right tab', 'the left inner wall', 'the base'."""
    kind, *places = panel_id.split("_")
    wording = catalogue.parts.get(kind)
    if wording is None or any(place not in catalogue.places for place in places):
        return _unknown_part(panel_id, catalogue)
    return wording.one.format(place=" ".join(catalogue.places[place] for place in places))


def parts_together(panel_ids: tuple[str, ...], catalogue: Catalogue = ENGLISH) -> str:
    """Some parts in one phrase: 'the back and front walls', 'all four tabs'."""
    kinds = {panel_id.partition("_")[0] for panel_id in panel_ids}
    wording = catalogue.parts.get(next(iter(kinds))) if len(kinds) == 1 else None
    if wording is None or len(panel_ids) == 1:
        return _listed(tuple(words_for_part(panel_id, catalogue) for panel_id in panel_ids), catalogue)
    if len(panel_ids) == FOUR:
        return wording.all_four
    places = tuple(
        " ".join(catalogue.places.get(place, place) for place in panel_id.split("_")[1:]) for panel_id in panel_ids
    )
    return wording.many.format(places=_listed(places, catalogue))


def join_words(join_id: str, catalogue: Catalogue = ENGLISH) -> str:
    """The parts of a join or a pair, by ids with a plus: 'the back right tab and the right wall'."""
    return _listed(tuple(words_for_part(part, catalogue) for part in join_id.split("+")), catalogue)


def subject_words(subject: str, catalogue: Catalogue = ENGLISH) -> str:
    """Whatever a finding is about: a piece, a part, a fold, or a pair; 'piece:' before it names another piece."""
    piece, colon, rest = subject.partition(":")
    if colon:
        return catalogue.part_of.format(part=subject_words(rest, catalogue), piece=piece_words(piece, catalogue))
    if "+" in subject:
        return join_words(subject, catalogue)
    if subject in catalogue.pieces:
        return piece_words(subject, catalogue)
    if subject.startswith("fold_"):
        return catalogue.fold_of.format(part=words_for_part(subject.removeprefix("fold_"), catalogue))
    return words_for_part(subject, catalogue)


def _unknown_part(name: str, catalogue: Catalogue) -> str:
    return catalogue.unknown_part.format(name=name.replace("_", " "))


def _listed(words: tuple[str, ...], catalogue: Catalogue) -> str:
    """Words in one phrase: 'a', 'a and b', 'a, b and c'."""
    if len(words) < 2:
        return "".join(words)
    return catalogue.common.pair.format(catalogue.common.comma.join(words[:-1]), words[-1])


# --- Findings -----------------------------------------------------------------------------------------------


def finding_words(finding: Finding, speech: Speech, catalogue: Catalogue = ENGLISH) -> FindingWords:
    """A finding in words. KeyError for a code that has no wording, or a value its wording needs and lacks."""
    wording = catalogue.findings[finding.code]
    state, variant = STATES[finding.severity], _variant(finding)
    fields = _fields(finding, speech, catalogue)
    limit = _pick(wording.limit, state, variant) or _limit_by_sense(finding, catalogue)
    return FindingWords(
        title=_sentence(_pick(wording.title, state, variant).format(**fields)),
        measured=_pick(wording.measured, state, variant).format(**fields),
        limit=limit.format(**fields),
        why=_sentence(_pick(wording.why, state, variant).format(**fields)),
        state=catalogue.common.states[state],
    )


def _pick(said: Said, state: str, variant: str) -> str:
    """The most special template there is; nothing when there is none."""
    keys = (f"{state}/{variant}", state, "")
    return next((said[key] for key in keys if key in said), "")


def _limit_by_sense(finding: Finding, catalogue: Catalogue) -> str:
    if finding.sense == "at_least":
        return catalogue.common.at_least.format("{limit}")
    return catalogue.common.at_most.format("{limit}") if finding.limit else catalogue.common.none_allowed


def _variant(finding: Finding) -> str:
    """Which of several ways to say it fits the values; nothing for the usual way."""
    values = dict(finding.values)
    match finding.code:
        case "fits_sheet":
            if finding.severity is Severity.HOLDS:
                return "exactly" if finding.measured == 0 else ""
            return "both" if max(_room(values)) < 0 else ""
        case "fold_order" if finding.severity is Severity.FAILS:
            return "reason" if "reason" in values else ""
        case "fold_order":
            return "at_least" if values["complete"] == "no" else "one" if finding.measured == 1 else ""
        case "lid_room":
            return "under" if finding.measured < 0 else ""
        case "readings_differ":
            if float(values["trim_first_mm"]) > 0:
                return "trim"
            return str(values["safer"]).replace(" ", "_")
        case "grain":
            return "none" if not finding.measured else "unknown" if values["grain"] == "unknown" else ""
        case "white_shows" if values["printed"] != "one side":
            return "same"
        case "white_shows":
            return "some" if finding.measured else ""
        case code if code in turning.CODES and finding.unit != "count":
            return _lid_variant(finding, values)
        case content.CORNER:
            return str(values["where"])
        case turning_edges.CATCHES | turning_edges.PRESSES:
            return "met" if "on_1" in values else ""
        case _:
            return "many" if finding.unit == "count" and finding.measured > 1 else ""


def _lid_variant(finding: Finding, values: Mapping[str, str | float]) -> str:
    """Which way to say a length, a share or a weight of a turning lid."""
    match finding.code:
        case turning.COMFORT:
            return "exact" if float(values["tolerance_mm"]) < ABOUT_MM else ""
        case turning_fastener.GRIPS:
            return f"{values['kind']}_{values['side']}" if finding.measured < 0 else ""
        case turning_fastener.BACK:
            return str(values["over"])
        case turning.HEAD if values["hidden"] == "yes":
            return "hidden" if finding.measured < float(values["hidden_mm"]) or finding.measured >= 0 else "peeks"
        case _:
            return "under" if finding.measured < 0 else ""


def _room(values: Mapping[str, str | float]) -> tuple[float, float]:
    """Card left over across and up, in mm, the way round that fits better."""
    width, height = float(values["width_mm"]), float(values["height_mm"])
    sheet_width, sheet_height = float(values["sheet_width_mm"]), float(values["sheet_height_mm"])
    straight, turned = (sheet_width - width, sheet_height - height), (sheet_height - width, sheet_width - height)
    return max(straight, turned, key=min)


def _fields(finding: Finding, speech: Speech, catalogue: Catalogue) -> dict[str, str]:
    """What the templates can name."""
    measured, limit, short = _measure(finding, speech, catalogue)
    subjects = _subjects(finding, catalogue)
    fields = {
        "measured": measured,
        "limit": limit,
        "short": short,
        "count": plain_number(finding.measured, 0),
        "counted": counted(finding.measured, catalogue.findings[finding.code].counted, catalogue.numbers),
        "subject": subjects[0] if subjects else "",
        "subjects": _some(subjects, catalogue),
        "piece": subjects[0] if subjects else "",
        "reason": "",
    }
    for name, value in finding.values:
        fields[name] = _value_words(name, value, speech, catalogue)
    fields["each"] = _each(finding, fields, catalogue)
    fields["every_subject"] = _listed(subjects, catalogue)
    reason = dict(finding.values).get("reason")
    if reason is not None:
        fields["reason"] = catalogue.reasons[str(reason)].format(*subjects[1:])
    return fields


def _each(finding: Finding, fields: Mapping[str, str], catalogue: Catalogue) -> str:
    """A sentence for each of what a finding lists: its values end in a number, or in a number and a unit."""
    template = catalogue.each.get(finding.code, "")
    told = []
    for number in range(1, len(fields)):
        own = {
            re.sub(rf"_{number}(?=_|$)", "", name): words
            for name, words in fields.items()
            if re.search(rf"_{number}(?=_|$)", name)
        }
        if not own:
            break
        told.append(_sentence(template.format(**own)))
    return " ".join(told)


def _subjects(finding: Finding, catalogue: Catalogue) -> tuple[str, ...]:
    """The subjects in words; parts that meet on the lid's way down with the piece each belongs to."""
    if finding.code != lid.WAY:
        return tuple(subject_words(subject, catalogue) for subject in finding.subjects)
    return tuple(
        _listed(
            tuple(
                catalogue.part_of.format(part=words_for_part(part, catalogue), piece=piece_words(piece, catalogue))
                for part, piece in zip(subject.split("+"), (TRAY, LID), strict=True)
            ),
            catalogue,
        )
        if "+" in subject
        else subject_words(subject, catalogue)
        for subject in finding.subjects
    )


def _measure(finding: Finding, speech: Speech, catalogue: Catalogue) -> tuple[str, str, str]:
    """The measure and the limit in words, and the measure in the maker's unit alone. Signs are for the templates."""
    common = catalogue.common
    size, most = abs(finding.measured), finding.limit
    if finding.unit == "mm":
        size_mm, most_mm = exact_length(size), exact_length(most)
        return (*length_pair(size_mm, most_mm, speech, common), short_length(size_mm, speech, common))
    if finding.unit == "mm2":
        return (*area_pair(size, most, speech, common), area_words(size, speech, common))
    frames = {"deg": (common.angle, 1), "g/m2": (common.weight, 1), "percent": (common.percent, 0)}
    if finding.unit in frames:
        frame, places = frames[finding.unit]
        told = [frame.format(number) for number in number_pair(size, most, places)]
        return told[0], told[1], told[0]
    things = common.layers if finding.unit == "layers" else catalogue.findings[finding.code].counted
    numbers = catalogue.numbers
    return counted(size, things, numbers), counted(most, things, numbers), counted(size, things, numbers)


def counted(number: float, things: Counted, numbers: Numbers = ENGLISH.numbers) -> str:
    """A number of things: 'none', 'one order', '3,311,616 orders'."""
    forms = {"0": things.none, "one": things.one, **things.more, OTHER: things.many}
    return counted_form(forms, round(number), numbers).format(count=plain_number(number, 0))


def _some(words: tuple[str, ...], catalogue: Catalogue) -> str:
    """The first of some names, and how many more there are."""
    if len(words) <= MOST_NAMED:
        return _listed(words, catalogue)
    return catalogue.common.and_more.format(catalogue.common.comma.join(words[:MOST_NAMED]), len(words) - MOST_NAMED)


def _value_words(name: str, value: str | float, speech: Speech, catalogue: Catalogue) -> str:
    """A further value: measures by their names' ending, counts as numbers, parts by name, other text as it is."""
    if isinstance(value, str):
        return _named_value(name, value, catalogue)
    if name in TURNS or name.startswith("angle_"):
        return turn_words(value, catalogue)
    if name.endswith("_share"):
        return catalogue.common.percent.format(plain_number(100.0 * value, 0))
    if name.endswith("_g"):
        return mass_words(value, speech, catalogue.common)
    if name.endswith("_mm"):
        return short_length(exact_length(value), speech, catalogue.common)
    if name.endswith("_deg"):
        return catalogue.common.angle.format(plain_number(value, 2))
    return plain_number(value, 2)


def _named_value(name: str, value: str, catalogue: Catalogue) -> str:
    if name.startswith(("on_", "layer_")):
        return subject_words(value, catalogue)
    return catalogue.places[value] if name == "front" else catalogue.terms.get(value, value)


def turn_words(angle_deg: float, catalogue: Catalogue = ENGLISH) -> str:
    """How a lid lies, seen from above: 'turned 171° to the right', 'closed'. Anticlockwise is positive, to the left."""
    common = catalogue.common
    if angle_deg == 0:
        return common.not_turned
    size = common.angle.format(plain_number(abs(angle_deg), 1))
    return (common.turned_left if angle_deg > 0 else common.turned_right).format(size)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _inside(title: str) -> str:
    """A title inside a sentence."""
    return title[:1].lower() + title[1:]


# --- Verdict, changes, assumptions --------------------------------------------------------------------------


def verdict_words(
    verdict: Verdict, findings: tuple[Finding, ...], speech: Speech, catalogue: Catalogue = ENGLISH
) -> VerdictWords:
    """The verdict, with its worst failure, and what else fails or is worth a look. ``findings`` in any order."""
    said = catalogue.verdict
    titles = {
        severity: [
            _inside(finding_words(finding, speech, catalogue).title)
            for finding in findings
            if finding.severity is severity
        ]
        for severity in Severity
    }
    fails, looks, undecided = titles[Severity.FAILS], titles[Severity.LOOK], titles[Severity.UNDECIDED]
    if verdict == "not_proved":
        return VerdictWords(
            headline=said.not_proved.format(title=fails[0]), line=_counted_titles(said.fails, fails[1:], catalogue)
        )
    if verdict == "not_decided":
        headline, first = said.not_decided.format(title=undecided[0]), said.line_not_decided
    else:
        headline, first = said.proved, said.line_proved
    line = " ".join(part for part in (first, _counted_titles(said.looks, looks, catalogue)) if part)
    return VerdictWords(headline=headline, line=line)


def _counted_titles(things: Counted, titles: list[str], catalogue: Catalogue) -> str:
    if not titles:
        return things.none
    if len(titles) == 1:
        return things.one.format(titles=titles[0])
    sentences = catalogue.common.sentences.join(_sentence(title) for title in titles[:MOST_TITLES])
    return _sentence(things.many.format(count=_number(len(titles), catalogue), titles=sentences))


def _number(count: int, catalogue: Catalogue) -> str:
    numbers = catalogue.common.numbers
    return numbers[count] if count < len(numbers) else plain_number(count, 0)


def change_words(change: Change, speech: Speech, catalogue: Catalogue = ENGLISH) -> str:
    """One change as something to do: 'make the inner walls 1 3/8 in deep'."""
    head, _, rest = change.path.partition(".")
    name = rest.partition(".")[2] if head in ("parts", "alternatives") else change.path
    whole, *inner = name.split(".")
    layer = piece_words(f"layer_{inner[0]}", catalogue) if whole == "layers" and len(inner) == 2 else ""
    name = f"{whole}.{inner[1]}" if layer else name
    typed = head in ("parts", "alternatives", "content", "ruler")
    value = _typed_words(change.value, speech) if typed else change.value
    signed = f"{name}<0" if value.startswith("-") else name
    keys = (f"{name}={change.value}", signed, name)
    template = next((catalogue.changes[key] for key in keys if key in catalogue.changes), None)
    if template is None:
        return catalogue.unknown_change.format(name=change.path, value=value)
    value = value.removeprefix("-") if signed in catalogue.changes else value
    return template.format(value=value, plain=change.value, layer=layer)


def changes_words(changes: tuple[Change, ...], speech: Speech, catalogue: Catalogue = ENGLISH) -> str:
    """Changes made together, in one phrase."""
    return _listed(tuple(change_words(change, speech, catalogue) for change in changes), catalogue)


def _typed_words(text: str, speech: Speech) -> str:
    """A value as a maker types it, with its unit where that was left out."""
    unit = speech.ruler.unit
    try:
        parse_length(text, unit)
        return text if written_unit(text) else f"{text} {unit}"
    except LengthError:
        return text  # a choice, not a length


def assumption_words(assumption: Assumption, speech: Speech, catalogue: Catalogue = ENGLISH) -> str:
    """What the proof takes for granted: 'thickness 0.29 mm, the thick end of what you measured'."""
    texts = [value for _, value in assumption.values if isinstance(value, str)]
    special = (catalogue.assumptions.get(f"{assumption.code}/{text}") for text in texts)
    template = next((said for said in special if said), None) or catalogue.assumptions[assumption.code]
    fields = {name: _value_words(name, value, speech, catalogue) for name, value in assumption.values}
    # What belongs to card and hands is known in millimetres, whatever ruler the maker has.
    fields |= {
        name: catalogue.common.millimetres.format(plain_number(value, 2))
        for name, value in assumption.values
        if name.endswith("_mm") and not isinstance(value, str)
    }
    return template.format(**fields)


# --- Steps and cautions -------------------------------------------------------------------------------------


def bench_words(
    code: str,
    piece_id: str,
    speech: Speech,
    lengths: tuple[Length, ...] = (),
    catalogue: Catalogue = ENGLISH,
    *,
    glue: str = "wet glue",
    place: str = "",
    in_class: bool = False,
) -> StepWords:
    """A step at the bench.

    ``lengths`` are the two sides for cut_piece and lid_cut_triangle, the positions for score_one_way and
    score_other_way, the tabs' length for cut_corners, the sizes of the layers for lid_cut_layers, the diameter for
    lid_try_turn, lid_make_hole and lid_glue_disc, and for lid_hole_by_hand the way from the box's outer corner to the
    hole, for lid_hole_by_sides the ways in from the two sides named in ``place``; other steps need none.
    ``glue`` is what fixes a layer, the greeting or the triangle: 'wet glue', 'hot glue' or 'foam'. ``place`` is the
    corner for lid_glue_triangle ('back left') and the side that is the front for lid_greeting ('left'). ``in_class``
    adds who cuts, where a step needs a knife.
    """
    # Many score positions in both units are more than a sentence holds: those are on the score plan.
    say = short_length if len(lengths) > MOST_NAMED else length_words
    told = tuple(say(value, speech, catalogue.common) for value in lengths)
    phrase = catalogue.common.times.format(*told) if code in TWO_SIDES else _listed(told, catalogue)
    wording = _bench_wording(code, piece_id, glue, len(lengths), catalogue)
    adhesive = catalogue.layer_adhesives[glue]
    places = [catalogue.places[word] for word in place.split()]
    fields = {
        "piece": piece_words(piece_id, catalogue),
        "lengths": phrase,
        "place": " ".join(places),
        **dict(zip(("first_place", "second_place"), (*places, "", ""), strict=False)),
        **dict(zip(("first", "second"), (*told, "", ""), strict=False)),
        "put": adhesive.put,
        "press": adhesive.press,
    }
    cautions = (
        catalogue.cautions[wording.caution] if wording.caution else "",
        catalogue.cautions.get(f"{wording.caution}/class", "") if in_class else "",
        adhesive.caution if "{put}" in wording.text else "",
    )
    return StepWords(
        title=wording.title.format(**fields),
        text=wording.text.format(**fields),
        check=wording.check,
        if_not=wording.if_not,
        caution=" ".join(caution for caution in cautions if caution) or None,
    )


def _bench_wording(code: str, piece_id: str, glue: str, lengths: int, catalogue: Catalogue) -> StepWording:
    """The most special wording there is."""
    many = "one" if lengths == 1 else "many" if lengths > MOST_SIZES else ""
    keys = (f"{code}/{special}" for special in (piece_id, glue, many))
    return next(
        (catalogue.bench_steps[key] for key in keys if key in catalogue.bench_steps), catalogue.bench_steps[code]
    )


def step_words(step: FoldingStep, glue: str, catalogue: Catalogue = ENGLISH) -> StepWords:
    """A step of folding and gluing. ``glue`` is 'wet glue', 'hot glue' or 'tape', as the part's value says."""
    children = tuple(fold.child for fold in step.folds)
    glued = any(fold.closes for fold in step.folds)
    wording = catalogue.fold_steps[f"{step.family}/{'glued' if glued else 'plain'}"]
    adhesive = catalogue.adhesives[glue]
    fields = {
        "parts": parts_together(children, catalogue),
        "first": words_for_part(children[0], catalogue),
        "put": adhesive.put,
        "press": adhesive.press,
    }
    text = wording.text.format(**fields)
    if glued and len(children) > 1:
        text = f"{text} {catalogue.step_again.format(rest=parts_together(children[1:], catalogue))}"
    slides = catalogue.step_slides if any(fold.sliding for fold in step.folds) else ""
    cautions = [caution for caution in (adhesive.caution if glued else "", slides) if caution]
    return StepWords(
        title=wording.title.format(**fields),
        text=text,
        check=wording.check,
        if_not=wording.if_not,
        caution=" ".join(cautions) or None,
    )


def cautions(glue: str, tools: tuple[str, ...], catalogue: Catalogue = ENGLISH) -> tuple[str, ...]:
    """The cautions for an adhesive and some tools (knife, scissors), and those that always hold, in one order."""
    return tuple(text for code, text in catalogue.cautions.items() if code in (glue, *tools, "always"))


# --- Progress and wrong input -------------------------------------------------------------------------------


def stage_words(code: str, catalogue: Catalogue = ENGLISH) -> str:
    """What the program is doing."""
    return catalogue.stages[code]


def problem_words(problem: Problem, catalogue: Catalogue = ENGLISH) -> str:
    """One unusable value: where it stands, what is there, why it cannot be used, and what to try."""
    common = catalogue.common
    template = common.problem if problem.value else common.problem_without_value
    return template.format(
        field=problem.field, value=problem.value, reason=problem.reason, remedy=problem.remedy.rstrip(".")
    )
