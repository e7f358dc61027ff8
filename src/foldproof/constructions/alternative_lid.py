"""Another shape for a turning lid, for those who do not have the first: what it takes over, and what it may differ in.

The corner triangle is glued into the box, so its corner and its strip are the box's own: they never differ.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any

from foldproof.constructions.fasteners import USUAL
from foldproof.constructions.parameters import Value, values_of
from foldproof.constructions.turning_lid import LidLayerValues, TurningLidValues, owned_sizes
from foldproof.lengths import Length, Ruler, round_to

OF_THE_BOX = ("on", "corner", "strip")  # values that every lid of one box shares
OF_THE_SHAPE = ("lobes", "depth")  # values that another shape begins anew with


def alternative_values() -> tuple[Value, ...]:
    """The values in which another lid may differ."""
    return tuple(value for value in values_of(TurningLidValues) if value.name not in OF_THE_BOX)


def other_lid(main: TurningLidValues, given: Mapping[str, Any], ruler: Ruler) -> TurningLidValues:
    """The other lid: what is ``given``, and the main lid's values for the rest.

    Another shape has its own usual lobes and depth. Layers that are not given keep their share of the main lid's size.
    """
    changed = dict(given)
    if changed.get("shape", main.shape) != main.shape:
        changed = {**dict.fromkeys(OF_THE_SHAPE, USUAL), **changed}
    other = dataclasses.replace(main, **changed)
    return other if "layers" in given else with_shares(other, main, ruler)


def with_shares(other: TurningLidValues, main: TurningLidValues, ruler: Ruler) -> TurningLidValues:
    """The other lid with layers that have the share of its size that the main lid's layers have of theirs.

    Each is brought to the ruler; of a shape that is owned in some sizes to the nearest of them. While one of the two
    sizes is still to be worked out the layers stay the main lid's.
    """
    if not (isinstance(other.across, Length) and isinstance(main.across, Length)):
        return dataclasses.replace(other, layers=main.layers)
    share = other.across.mm / main.across.mm
    sizes = owned_sizes(other)

    def kept(layer: LidLayerValues) -> LidLayerValues:
        if not isinstance(layer.across, Length):
            return layer
        wanted = Length(layer.across.mm * share)
        size = min(sizes, key=lambda each: abs(each - wanted)) if sizes else round_to(wanted, ruler).shown
        return dataclasses.replace(layer, across=size)

    return dataclasses.replace(other, layers=tuple(kept(layer) for layer in main.layers))
