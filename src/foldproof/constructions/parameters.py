"""What a construction can be told: each value with its range, unit, default and help.

From these records come the project file's keys, the command line's options, the pages of docs and the tests over
samples, so each fact about a value stands here once.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from foldproof.lengths import Length, Ruler, length

OPEN = "work out"  # what a maker writes for a value that is to be solved for


Kind = Literal["length", "choice", "length_or_choice", "count", "angle", "text", "part", "list", "shape"]
Form = Literal["words", "colour", "weight"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """One value of a construction.

    ``kind`` says what may be written; ``choices`` are the texts allowed. A length lies in ``least``..``most``, a count
    or an angle in degrees in ``fewest``..``top``; a list holds ``record`` after record, at most ``top`` of them; a
    part is the name of another part of the project; a text is ``form`` words, a colour as #rrggbb or a weight
    of card. A shape is one of
    the ``choices``, or one of the project's own shapes by its name.
    ``may_be_open``: it can be left to be worked out; ``open_beside_own``: it is, when it is left out beside a shape of
    the maker's own. ``default`` is the text used when the key is missing, by unit
    family ("in", "cm"); None when it must be given. ``usual_records`` are what a new project has in a list: the texts
    that differ from the defaults.
    """

    name: str
    kind: Kind
    help: str
    choices: tuple[str, ...] = ()
    least: Length | None = None
    most: Length | None = None
    may_be_open: bool = False
    default: tuple[str, str] | None = None
    fewest: float | None = None
    top: float | None = None
    record: type | None = None
    form: Form = "words"
    usual_records: tuple[Mapping[str, str], ...] = ()
    open_beside_own: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """A value left to be worked out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What a construction needs to know of the card and the tools: one piece's world."""

    thickness_mm: float
    sheet_width: Length
    sheet_height: Length
    ruler: Ruler


LengthOrOpen = Length | Open


def a_length(
    help_text: str,
    *,
    least: str = "10 mm",
    most: str = "1000 mm",
    default: tuple[str, str] | None = None,
    may_be_open: bool = False,
    open_beside_own: bool = False,
) -> Any:  # a dataclass field stands for any type of value
    """A field that holds a Length. ``default`` is a pair of texts: for inch projects and for metric ones."""
    ends = (_mm(least), _mm(most))
    return _field("length", help_text, (), *ends, default, may_be_open, open_beside_own=open_beside_own)


def a_choice(help_text: str, *choices: str) -> Any:
    """A field that holds one of some texts; the first is the default."""
    return _field("choice", help_text, choices, None, None, (choices[0], choices[0]), False)


def a_length_or_choice(
    help_text: str, *choices: str, least: str = "0 mm", most: str = "1000 mm", may_be_open: bool = False
) -> Any:
    """A field that holds a Length or one of some texts; the first text is the default."""
    default = (choices[0], choices[0])
    return _field("length_or_choice", help_text, choices, _mm(least), _mm(most), default, may_be_open)


def a_count(help_text: str, *choices: str, fewest: int, top: int) -> Any:
    """A field that holds a whole number or one of some texts; the first text is the default."""
    return _field("count", help_text, choices, None, None, (choices[0],) * 2, False, fewest=fewest, top=top)


def an_angle(
    help_text: str, *choices: str, fewest: float = -360.0, top: float = 360.0, may_be_open: bool = False
) -> Any:
    """A field that holds degrees (a float) or one of some texts; the first text is the default."""
    return _field("angle", help_text, choices, None, None, (choices[0],) * 2, may_be_open, fewest=fewest, top=top)


def a_text(help_text: str, *, default: str, form: Form = "words") -> Any:
    """A field that holds a short text of the maker's, or a colour as #rrggbb."""
    return _field("text", help_text, (), None, None, (default, default), False, form=form)


def a_weight(help_text: str, *choices: str) -> Any:
    """A field that holds a weight of card as a packet tells it, or one of some texts; the first is the default."""
    return _field("text", help_text, choices, None, None, (choices[0],) * 2, False, form="weight")


def a_part(help_text: str) -> Any:
    """A field that names another part of the project; it must be given."""
    return _field("part", help_text, (), None, None, None, False)


def a_shape(help_text: str, *formulas: str) -> Any:
    """A field that holds the name of a formula or an OwnShape of the project; the first formula is the default."""
    return _field("shape", help_text, formulas, None, None, (formulas[0],) * 2, False)


def a_list(help_text: str, record: type, *, top: int, usual: tuple[Mapping[str, str], ...]) -> Any:
    """A field that holds a tuple of parameter records, at least one. ``usual`` are those of a new project."""
    return _field("list", help_text, (), None, None, None, False, fewest=1, top=top, record=record, usual_records=usual)


def _mm(text: str) -> Length:
    return length(text.removesuffix(" mm"), "mm")


def _field(
    kind: str,
    help_text: str,
    choices: tuple[str, ...],
    least: Length | None,
    most: Length | None,
    default: tuple[str, str] | None,
    may_be_open: bool,
    *,
    fewest: float | None = None,
    top: float | None = None,
    record: type | None = None,
    form: Form = "words",
    usual_records: tuple[Mapping[str, str], ...] = (),
    open_beside_own: bool = False,
) -> Any:
    facts = {
        "kind": kind,
        "help": help_text,
        "choices": choices,
        "least": least,
        "most": most,
        "default": default,
        "may_be_open": may_be_open,
        "fewest": fewest,
        "top": top,
        "record": record,
        "form": form,
        "usual_records": usual_records,
        "open_beside_own": open_beside_own,
    }
    return dataclasses.field(metadata=facts)


def values_of(parameters: type) -> tuple[Value, ...]:
    """The values of a parameter record, in the order they are declared."""
    return tuple(Value(name=field.name, **field.metadata) for field in dataclasses.fields(parameters))
