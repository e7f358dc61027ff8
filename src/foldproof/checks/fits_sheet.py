"""Does each piece come out of the sheet as it really is?"""

from __future__ import annotations

from foldproof.checks.evidence import Evidence
from foldproof.checks.judge import at_least, finding
from foldproof.checks.proposals import larger_sheet, smaller_parts
from foldproof.findings import Finding
from foldproof.lengths import ZERO, Length

CODE = "fits_sheet"


def judge(evidence: Evidence) -> tuple[Finding, ...]:
    """Card left over in the tighter direction, turned whichever way fits better; below nothing it fails."""
    sheet = evidence.project.cardstock.usable_sheet
    found = []
    for piece in evidence.pieces:
        width, height = piece.measured.width.shown, piece.measured.height.shown
        straight = (sheet.width - width, sheet.height - height)
        turned = (sheet.height - width, sheet.width - height)
        room = max(straight, turned, key=min)
        spare = min(room)
        over: tuple[Length, Length] = (max(-room[0], ZERO), max(-room[1], ZERO))
        proposals = smaller_parts(evidence, over) + larger_sheet(evidence, width, height)
        found.append(
            finding(
                CODE,
                at_least(spare.float_mm, 0.0, 0.0),
                spare.float_mm,
                "mm",
                "at_least",
                (piece.measured.piece.id,),
                (
                    ("sheet", sheet.name),
                    ("width_mm", width.float_mm),
                    ("height_mm", height.float_mm),
                    ("sheet_width_mm", sheet.width.float_mm),
                    ("sheet_height_mm", sheet.height.float_mm),
                ),
                proposals,
            )
        )
    return tuple(found)
