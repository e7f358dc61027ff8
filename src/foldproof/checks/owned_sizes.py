"""A shape that the maker owns in some sizes only: is every layer of the lid one of them?"""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import finding
from foldproof.constructions.turning_lid import layer_across, layer_piece, owned_sizes
from foldproof.findings import Change, Finding, Severity
from foldproof.lengths import Length
from foldproof.project.write_shapes import exact_size

CODE = "size_owned"


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """How many layers have a size she does not own; none for a shape that can be cut at any size."""
    values = evidence.part.values
    owned = () if evidence.turning is None else owned_sizes(values)
    if not owned:
        return ()
    sizes = [layer_across(values, layer, values.across) for layer in values.layers]
    others = [place for place, size in enumerate(sizes) if size not in owned]
    told: tuple[tuple[str, str | float], ...] = ()
    if others:
        size = sizes[others[0]]
        told = (("size_mm", size.float_mm), ("nearest_mm", _nearest(size, owned).float_mm))
    return (
        finding(
            CODE,
            (Severity.LOOK if others else Severity.HOLDS, 0.0),
            float(len(others)),
            "count",
            "at_most",
            tuple(layer_piece(place + 1) for place in others),
            told,
            (_changes(evidence, others, sizes, owned),),
        ),
    )


def _nearest(size: Length, owned: tuple[Length, ...]) -> Length:
    """The owned size nearest to another; of two equally near the larger, which covers more."""
    return min(reversed(owned), key=lambda each: abs(each - size))


def _changes(
    evidence: Evidence, others: list[int], sizes: list[Length], owned: tuple[Length, ...]
) -> tuple[Change, ...]:
    """The nearest owned size for every layer that has another: the lid's own, and those of layers that differ."""
    values, path = evidence.part.values, f"parts.{evidence.part.name}"
    changes: dict[str, str] = {}
    for place in others:
        own = isinstance(values.layers[place].across, Length)
        where = f"{path}.layers.{place + 1}.across" if own else f"{path}.across"
        changes[where] = exact_size(_nearest(sizes[place], owned))
    return tuple(Change(path=where, value=text) for where, text in changes.items())
