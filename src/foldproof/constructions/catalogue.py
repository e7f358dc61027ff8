"""Every construction there is: one line each."""

from __future__ import annotations

from foldproof.constructions import double_wall_tray, plain_tray, turning_lid
from foldproof.constructions.record import Construction

CONSTRUCTIONS: tuple[Construction, ...] = (
    double_wall_tray.CONSTRUCTION,
    plain_tray.CONSTRUCTION,
    turning_lid.CONSTRUCTION,
)


def construction_named(name: str) -> Construction | None:
    """The construction of that name, or None."""
    return next((c for c in CONSTRUCTIONS if c.name == name), None)
