"""What goes in: does it have room, layers and corner triangle counted, and does the wall stand over it?"""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import at_least, finding
from foldproof.checks.proposals import Proposal, in_steps, set_value, value_of
from foldproof.findings import Finding

CODE = "content_room"


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
    )
