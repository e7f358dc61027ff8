"""English for what changed between two versions of a project."""

from __future__ import annotations

from collections.abc import Mapping

CHANGED = "{label} {before} → {after}"
ALTERED = "{label} changed"  # where both sides would read alike
ADDED, ADDED_AS = "{label} added", "{label}: {after}"
TAKEN_OUT = "{label} taken out"
NOTES = "notes and layout"
STARTED = "started"
COPIED = "copied from {name}"
BROUGHT_IN = "brought in"
OUTSIDE = "changed outside the workbench"
SET_ASIDE = "changed outside the workbench, and cannot be read: kept as {name}"
FOUND = "found in the history"
UNDONE, REDONE, GONE_TO = "undone", "done again", "gone to version {number}"
AND_MORE = "and {count} more changes"
WORKED_OUT = "to be worked out"
TIED = "as {other}"
POINTS = "{count} points"
MILLIMETRES = "{mm} mm"

PART = "{part}: "  # before the label, where a project has several parts
ROW = "{row} {number}"
ROW_VALUE = "{row} {number} {label}"
SHAPE = "shape {name}"
# What is told of a shape of the maker's own, by the name it has in the file.
SHAPE_FIELDS: Mapping[str, str] = {
    "outline": "points",
    "source": "source",
    "accuracy_mm": "accuracy",
    "sizes": "sizes",
}

# What is not told by its own name. Names have their underscores taken out.
LABELS: Mapping[str, str] = {
    "cardstock.name": "cardstock",
    "cardstock.rgb": "cardstock colour in drawings",
    "cardstock.measured": "measured sheet",
    "board": "scoring board",
    "teach.hand": "hand",
    "teach.version": "version",
    "content": "what goes in",
    "papers.upright": "papers with the print upright",
    "extra": "notes of your own",
    "layers": "layer",
}
YES_NO: Mapping[bool, str] = {True: "yes", False: "no"}
