"""Shaped edges of a lid: hanging ones that catch as it turns, lifted ones that press on the next layer."""

from __future__ import annotations

from fractions import Fraction

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import finding
from foldproof.checks.proposals import Proposal
from foldproof.checks.turning_evidence import Turning
from foldproof.findings import Change, Finding, Severity
from foldproof.lengths import Length, in_words, round_to
from foldproof.lids.heights import Press

CATCHES, PRESSES = "lid_catches", "edge_presses"
CODES = (CATCHES, PRESSES)


def judge(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    """Every layer that catches, with each catch; every lifted edge that presses, for a lid that has any."""
    return (_hanging(evidence, turning), *_lifted(evidence, turning))


def _hanging(evidence: Evidence, turning: Turning) -> Finding:
    names = tuple(dict.fromkeys(met.layer for met in turning.catches))
    values: list[tuple[str, str | float]] = []
    for number, met in enumerate(turning.catches, start=1):
        values += [
            (f"layer_{number}", met.layer),
            (f"on_{number}", met.on),
            (f"angle_{number}_deg", met.angle_deg),
            (f"depth_{number}_mm", met.depth_mm),
        ]
    caught = Severity.FAILS if names else Severity.HOLDS
    flat = _flat(evidence, names)
    return finding(CATCHES, (caught, 0.0), float(len(names)), "count", "at_most", names, tuple(values), flat)


def _flat(evidence: Evidence, names: tuple[str, ...]) -> tuple[Proposal, ...]:
    """All of these layers flat, or one of them."""
    path = f"parts.{evidence.part.name}.layers.{{number}}.edge"
    changes = tuple(Change(path=path.format(number=name.removeprefix("layer_")), value="flat") for name in names)
    return tuple(dict.fromkeys((changes, *((change,) for change in changes)))) if changes else ()


def _lifted(evidence: Evidence, turning: Turning) -> tuple[Finding, ...]:
    """Lifted edges that reach into the layer over them; nothing for a lid without any."""
    if not any(layer.lift_mm > 0.0 for layer in turning.lid.layers):
        return ()
    names = tuple(press.layer for press in turning.presses)
    values: list[tuple[str, str | float]] = []
    for number, press in enumerate(turning.presses, start=1):
        values += [
            (f"layer_{number}", press.layer),
            (f"on_{number}", press.on),
            (f"room_{number}_mm", press.room_mm),
            (f"by_{number}_mm", press.by_mm),
        ]
    pressed = Severity.FAILS if names else Severity.HOLDS
    changes = (*_flat(evidence, names), *_more_foam(evidence, turning.presses))
    return (finding(PRESSES, (pressed, 0.0), float(len(names)), "count", "at_most", names, tuple(values), changes),)


def _more_foam(evidence: Evidence, presses: tuple[Press, ...]) -> tuple[Proposal, ...]:
    """Foam under the layers over lifted edges, as thick as these rise."""
    ruler = evidence.project.ruler
    changes: list[Change] = []
    for press in presses:
        thick = round_to(Length(Fraction(str(round(press.room_mm + press.by_mm, 6)))), ruler, "up").shown
        path = f"parts.{evidence.part.name}.layers.{press.on.removeprefix('layer_')}"
        changes += [
            Change(path=f"{path}.fixed", value="foam"),
            Change(path=f"{path}.foam", value=in_words(thick, ruler)),
        ]
    return (tuple(changes),) if changes else ()
