"""English: what is needed, and the frames of the steps and of their drawings in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class StepWords:
    """What is needed, and the frames of the steps and of their drawings in words."""

    both_sides: str = "At the left: {text} At the right, what you have then: {check}"  # a drawing of a step in words
    alt: str = "{title}. {text}"
    finished_alt: str = "{name}, finished: {part}."
    oblong: str = "{width} x {height}"
    need_piece: str = "A piece of the cardstock, {size} ({other}), for {piece}."
    need_layer: str = "A piece of {card}, {size} ({other}), for {piece}."
    need_fastener: Mapping[str, str] = table(
        {
            "brad": "A brad.",
            "eyelet": "An eyelet, and what sets it.",
            "snap": "A two-part snap: cap and socket.",
        }
    )
    need_awl: str = "An awl or a needle, and cork or foam to pierce on."
    need_board: str = "A scoring board with grooves: {board}."
    need_ruler: str = "A ruler and a pencil."
    need_tools: tuple[str, ...] = ("A bone folder.", "A craft knife, a metal rule and a cutting mat, or scissors.")
    need_glue: Mapping[str, str] = table(
        {
            "wet glue": "Glue for paper.",
            "hot glue": "A low-heat glue gun.",
            "tape": "Double-sided tape.",
            "foam": "Foam pads.",
        }
    )
