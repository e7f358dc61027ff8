"""The shapes of the message catalogue: templates in one language, filled by the functions in messages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from foldproof.words.numbers import Numbers
from foldproof.words.tables import table
from foldproof.words.texts import CODE

# Templates by "state/variant", "state" or "" (the rest), looked up in that order.
Said = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """A number of things: none, one, and ``many`` with ``{count}``; ``more`` has forms that a language has besides."""

    none: str
    one: str
    many: str
    more: Mapping[str, str] = table({})


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingWording:
    """How one finding is told. A limit left out is told by its sense; a count is told by ``counted``."""

    title: Said
    why: Said
    measured: Said
    limit: Said
    counted: Counted


@dataclass(frozen=True, slots=True, kw_only=True)
class PartWording:
    """A kind of part: one of them, some of them by their places, and all four of them."""

    one: str
    many: str
    all_four: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepWording:
    """One step: what to do, what can then be seen, and one thing to do if it cannot.

    ``caution`` is the code of a caution, where the step has a hazard whatever it is made with.
    """

    title: str
    text: str
    check: str
    if_not: str
    caution: str = field(default="", metadata=CODE)


@dataclass(frozen=True, slots=True, kw_only=True)
class AdhesiveWording:
    """What is done with one adhesive: the sentence before the fold, the one after it, and its caution."""

    put: str
    press: str
    caution: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CommonWording:
    """Small words: lists, counts, measures, states and the frames of longer messages."""

    pair: str
    comma: str
    and_more: str
    numbers: tuple[str, ...]
    about: str
    both_units: str
    times: str
    sentences: str
    millimetres: str
    area_in: str
    area_cm: str
    area_mm: str
    angle: str
    turned_left: str
    turned_right: str
    not_turned: str
    percent: str
    grams: str
    ounces: str
    weight: str
    layers: Counted
    at_most: str
    at_least: str
    none_allowed: str
    states: Mapping[str, str]
    problem: str
    problem_without_value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictWording:
    """The verdict and the line under it. ``looks`` and ``fails`` take ``{titles}``: one title, or some sentences."""

    proved: str
    not_proved: str
    not_decided: str
    line_proved: str
    line_not_decided: str
    looks: Counted
    fails: Counted


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """Every word of one language, by the codes the program uses."""

    common: CommonWording
    verdict: VerdictWording
    findings: Mapping[str, FindingWording]
    each: Mapping[str, str]
    reasons: Mapping[str, str]
    pieces: Mapping[str, str]
    parts: Mapping[str, PartWording]
    places: Mapping[str, str]
    unknown_part: str
    fold_of: str
    part_of: str
    changes: Mapping[str, str]
    unknown_change: str
    assumptions: Mapping[str, str]
    stages: Mapping[str, str]
    bench_steps: Mapping[str, StepWording]
    fold_steps: Mapping[str, StepWording]
    adhesives: Mapping[str, AdhesiveWording]
    layer_adhesives: Mapping[str, AdhesiveWording]
    step_again: str
    step_slides: str
    cautions: Mapping[str, str]
    terms: Mapping[str, str]
    numbers: Numbers = field(default_factory=Numbers, metadata=CODE)
