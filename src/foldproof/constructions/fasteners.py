"""What a lid turns on, by its own measures: which ones each kind has, and the usual ones.

A measure that a maker leaves out is the usual one of its kind, in inches where she works in inches.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from foldproof.constructions.record import Conflict
from foldproof.lengths import ZERO, Length, Unit, parse_length

FastenerKind = Literal["brad", "eyelet", "snap"]
BRAD, EYELET, SNAP = "brad", "eyelet", "snap"
KINDS: tuple[str, ...] = (BRAD, EYELET, SNAP)
USUAL = "usual"

# In inches and in metric. Brads of these sizes are published by craft shops: heads of 1/8, 1/4 and 5/8 in, holes of
# 1/16 and 1/8 in. Length of legs, and all measures of eyelets and snaps: values from memory.
_USUAL: dict[str, dict[str, tuple[str, str]]] = {
    BRAD: {"hole": ("1/8 in", "3 mm"), "head": ("1/4 in", "6 mm"), "legs": ("1/2 in", "12 mm")},
    EYELET: {
        "hole": ("3/16 in", "5 mm"),
        "head": ("5/16 in", "8 mm"),
        "barrel": ("3/16 in", "5 mm"),
        "back": ("5/16 in", "8 mm"),
    },
    SNAP: {
        "hole": ("1/8 in", "3 mm"),
        "head": ("1/2 in", "12 mm"),
        "back": ("3/8 in", "10 mm"),
        "grip_least": ("1/32 in", "0.8 mm"),
        "grip_most": ("1/8 in", "3 mm"),
    },
}
MEASURES: dict[str, tuple[str, ...]] = {kind: tuple(usual) for kind, usual in _USUAL.items()}
_NAMES = tuple(dict.fromkeys(name for names in MEASURES.values() for name in names))
_A_KIND = {BRAD: "a brad", EYELET: "an eyelet", SNAP: "a snap"}


class FastenerValues(Protocol):
    """The values of a lid that tell what it turns on."""

    @property
    def fastener(self) -> str: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerSizes:
    """Every measure of one fastener; those its kind does not have are nothing."""

    kind: str
    hole: Length
    head: Length
    legs: Length = ZERO
    barrel: Length = ZERO
    back: Length = ZERO
    grip_least: Length = ZERO
    grip_most: Length = ZERO


def fastener_sizes(values: FastenerValues, unit: Unit) -> FastenerSizes:
    """The measures of what a lid turns on, the usual ones where none is given."""
    family = 0 if unit == "in" else 1
    found: dict[str, Length] = {}
    for name, usual in _USUAL[values.fastener].items():
        given = getattr(values, name)
        found[name] = given if isinstance(given, Length) else parse_length(usual[family], unit)
    return FastenerSizes(kind=values.fastener, **found)


def fastener_conflicts(values: FastenerValues) -> list[Conflict]:
    """Measures that the kind does not have, heads and backs that slip through the hole, a grip that is none.

    Two usual measures never contradict each other. An inch and a metric one of a kind differ by little, so a given
    measure that contradicts either is told.
    """
    kind = values.fastener
    found = [
        Conflict(name=name, reason=f"{_A_KIND[kind]} has none", remedy="leave it out")
        for name in _NAMES
        if name not in MEASURES[kind] and isinstance(getattr(values, name), Length)
    ]
    both = [fastener_sizes(values, unit) for unit in _UNITS]
    if any(sizes.head <= sizes.hole for sizes in both):
        found.append(Conflict(name="head", reason="slips through the hole", remedy="a head twice as wide as hole"))
    if kind != BRAD and any(sizes.back <= sizes.hole for sizes in both):
        found.append(Conflict(name="back", reason="slips through the hole", remedy="a back twice as wide as hole"))
    if kind == SNAP and any(sizes.grip_most <= sizes.grip_least for sizes in both):
        found.append(
            Conflict(name="grip_most", reason="is no more than grip_least", remedy="the most that the packet tells")
        )
    return found


_UNITS: tuple[Unit, ...] = ("in", "cm")
