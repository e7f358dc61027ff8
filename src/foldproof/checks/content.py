"""What goes in: does it have room, layers and corner triangle counted, and does the wall stand over it?"""

from __future__ import annotations

import math

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import at_least, finding
from foldproof.checks.proposals import LEAST_PART, Proposal, in_steps, set_value, value_of
from foldproof.constructions.turning_lid import TurningLidValues
from foldproof.findings import Change, Finding, Severity
from foldproof.lengths import in_words, length, round_to
from foldproof.lids.box import leg_of_strip
from foldproof.pattern.records import BoxForm
from foldproof.project.records import Content, Part

CODE, CORNER = "content_room", "content_corner"
# What stands out under the triangle: opened legs, a set eyelet's flare, a snap's socket. Values from memory.
UNDER_MM = {"brad": 1.0, "eyelet": 1.0, "snap": 3.0}


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """The least room round the content in any direction, for the first part that has an inside; none without content.

    Length and width may lie either way round in the box. Room less than nothing does not hold it; less than its ease
    is worth a look.
    """
    content = evidence.project.content
    first = next((part for part in evidence.project.parts if not part.on), None)
    if content is None or first is None or evidence.part.name != first.name:
        return ()
    form = evidence.assembly.forms[0]
    length_mm, width_mm = content.length.float_mm, content.width.float_mm
    # The base is as thick as the card, and the rim's height is measured from its middle.
    height = form.rim_mm - evidence.project.cardstock.thickness.high_mm - content.height.float_mm
    ways = [
        (form.inner_mm[0] - across, form.inner_mm[1] - along)
        for across, along in ((length_mm, width_mm), (width_mm, length_mm))
    ]
    sides = max(ways, key=min)
    room = min(*sides, height)
    proposals: list[Proposal] = []
    step = evidence.project.ruler.step_length
    ease = content.ease.float_mm
    for name, missing in (("base_length", ease - sides[0]), ("base_width", ease - sides[1]), ("wall_height", -height)):
        value = value_of(evidence, name)
        if value is not None and missing > 0:
            proposals.append((set_value(evidence, name, in_steps(value.float_mm + missing, step)),))
    if len(proposals) > 1:
        proposals.insert(0, tuple(change for proposal in proposals for change in proposal))
    return (
        finding(
            CODE,
            at_least(room, min(ease, height) if height >= 0 else ease, 0.0),
            room,
            "mm",
            "at_least",
            (form.piece,),
            (("ease_mm", ease), ("height_mm", height)),
            tuple(proposals),
        ),
        *_corner(evidence, first, content, form),
    )


def _corner(evidence: Evidence, part: Part, content: Content, form: BoxForm) -> tuple[Finding, ...]:
    """Room beside the corner triangle of a turning lid, which takes a corner of the box from the rim to its flaps.

    What goes in is pushed into the opposite corner; its near corner is then so far from both walls as the box is
    larger, and clear of the triangle when the two together are its leg. Lower than the flaps it may lie under the
    triangle. Between the two it has to be tipped in, which is worth a look; higher than the triangle's under side it
    cannot be.
    """
    lid = next((other for other in evidence.project.parts if other.on == part.name), None)
    if lid is None or not isinstance(lid.values, TurningLidValues):
        return ()
    card, strip = evidence.project.cardstock.thickness.high_mm, lid.values.strip.float_mm
    top = card + content.height.float_mm
    under = form.rim_mm - 2.0 * card - UNDER_MM[lid.values.fastener]
    flaps = form.rim_mm - 2.0 * card - strip / math.sqrt(2.0)
    sizes = (content.length.float_mm, content.width.float_mm)
    ways = [(form.inner_mm[0] - sizes[k], form.inner_mm[1] - sizes[1 - k]) for k in (0, 1)]
    gap = max((sum(way) for way in ways if min(way) >= 0.0), default=None)
    if gap is None or top > form.rim_mm:
        return ()  # it does not go into the box at all, which another finding tells
    beside = (gap - leg_of_strip(strip)) / math.sqrt(2.0)
    gives = evidence.project.checks.corner_look_mm
    low = beside < 0.0 and top <= flaps
    close = not low and -gives <= beside < 0.0 and top <= under
    severity = Severity.HOLDS if beside >= 0.0 or low or close else Severity.FAILS if top > under else Severity.LOOK
    measured = flaps - top if low else beside
    return (
        finding(
            CORNER,
            (severity, -gives if close or severity is Severity.LOOK else 0.0),
            measured,
            "mm",
            "at_least",
            (form.piece,),
            (
                ("where", "under" if low else "close" if close else "beside"),
                ("flaps_mm", max(0.0, flaps)),
                ("strip_mm", strip),
            ),
            _more_corner(evidence, lid, gap, top - flaps),
        ),
    )


def _more_corner(evidence: Evidence, lid: Part, gap_mm: float, over_mm: float) -> tuple[Proposal, ...]:
    """A smaller triangle, a longer base, or walls so tall that all of it lies below the flaps."""
    ruler = evidence.project.ruler
    found: list[Proposal] = []
    strip = round_to(length(f"{gap_mm / math.sqrt(2.0):.4f}", "mm"), ruler, "down").shown
    if strip >= LEAST_PART:
        found.append((Change(path=f"parts.{lid.name}.strip", value=in_words(strip, ruler)),))
    missing = leg_of_strip(lid.values.strip.float_mm) - gap_mm
    for name, more in (("base_length", missing), ("base_width", missing), ("wall_height", over_mm)):
        value = value_of(evidence, name)
        if value is not None and more > 0.0:
            found.append((set_value(evidence, name, in_steps(value.float_mm + more, ruler.step_length)),))
    return tuple(found)
