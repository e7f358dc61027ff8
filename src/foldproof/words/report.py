"""English: measures and proof: titles, columns and frames."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportWords:
    """Measures and proof: titles, columns and frames."""

    outside: str = "{piece}, outside"
    inside: str = "{piece}, clear inside"
    both: str = "{first} ({second})"
    measures_title: str = "Measures: {name}"
    card: str = "Cardstock: {name}, sheet {sheet}, {thickness}."
    sheet: str = "{name} ({width} by {height})"
    thick_measured: str = "{mm:g} mm thick as measured"
    thick_estimated: str = "{mm:.2f} mm thick, an estimate: {low:.2f} to {high:.2f} mm"
    on_board: str = "Board: {board}."
    no_board: str = "No board: tick the positions with a ruler, and score with a bone folder."
    cut: str = "Cut {count} {size} ({other})."
    pieces: Mapping[str, str] = table({"one": "one piece", "other": "{count} pieces"})
    rounded: str = "The cut is rounded to your ruler: {width} across, {height} up, from the exact size."
    too_large: str = (
        "The sheet is too small for this piece. Run `foldproof prove` on the file: it says what would help."
    )
    score: str = "Score from the left edge"
    score_turned: str = "Turn the piece a quarter to the right, and score from the left edge"
    score_columns: tuple[str, ...] = ("Line", "At", "Also", "How to find it")
    groove: str = "groove {stop}"
    offset: str = "edge at {edge}, groove {stop}"
    ruler: str = "ruler and bone folder"
    off: str = "{how}; {error:+.2f} mm from exact"
    cutting: str = "With the scissors"
    finished: str = "Finished"
    finished_columns: tuple[str, ...] = ("Size", "Length", "Width", "Height")
    proof_title: str = "Proof: {name}"
    groups: Mapping[str, str] = table(
        {
            "fails": "What fails",
            "undecided": "What is not decided",
            "look": "Worth a look",
        }
    )
    hold: str = "What holds"
    proof_columns: tuple[str, ...] = ("Check", "Measured", "Limit")
    part: str = "{part}: {title}"
    measured: str = "Measured: {measured}. Limit: {limit}."
    mends: str = "Tried, and it helps: {changes}. {verdict}"
    verdict_after: Mapping[str, str] = table(
        {
            "proved": "Then the project is proved.",
            "not_proved": "Other checks still fail then.",
            "not_decided": "Then it is not decided.",
        }
    )
    other_after: Mapping[str, str] = table(
        {
            "proved": "Then it is proved.",
            "not_proved": "Other checks still fail then.",
            "not_decided": "Then it is not decided.",
        }
    )
    instead: str = "Instead of the {of}: {name}"
    instead_verdict: str = "Instead of the {of}, {name}: {headline}"
    granted: str = "Taken for granted"
    stopped: str = "The search was stopped before it was done. What is said here is what was known by then."
    made_by: str = "Foldproof {program}. Project {hash}."
    lid_figures: str = "The {part} in figures"
    lid_columns: tuple[str, ...] = ("What", "How much")
    oblong: str = "{width} x {height}"
