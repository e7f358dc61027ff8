"""A step as plainer blocks, for formats that do not set it as one."""

from __future__ import annotations

from foldproof.drawing.records import Heading, Paragraph, Picture, Step

STEP_LEVEL = 2

StepBlock = Heading | Paragraph | Picture


def step_blocks(step: Step) -> tuple[StepBlock, ...]:
    """Heading with its number, text, caution, drawing, check, and what to do if it is not so."""
    blocks: list[StepBlock] = [
        Heading(text=f"{step.number}. {step.title}", level=STEP_LEVEL),
        Paragraph(text=step.text),
    ]
    if step.caution is not None:
        blocks.append(Paragraph(text=step.caution, kind="caution"))
    if step.picture is not None:
        blocks.append(Picture(page=step.picture))
    return (*blocks, Paragraph(text=step.check, kind="check"), Paragraph(text=step.if_not))
