"""What every JSON report of the program has in common. The reports are documented in docs/schemas.md."""

from __future__ import annotations

import json
from typing import Any, Literal

from foldproof import __version__
from foldproof.lengths import Length

Report = dict[str, Any]
Kind = Literal["new", "measure", "fit", "fit_shapes", "fit_other_shapes", "outline", "shelf", "prove", "pack", "error"]

CONTRACT = 1  # raised when a field goes or changes its meaning; new fields alone do not raise it
PLACES = 6  # decimals kept: finer than any measure, coarser than what differs from machine to machine


def report(kind: Kind, **fields: Any) -> Report:
    """A report with its kind, contract and program first."""
    return {"report": kind, "contract": CONTRACT, "program": __version__, **fields}


def report_text(data: Report) -> str:
    """The report as JSON text; a number that is none is our own mistake."""
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def number(value: float) -> float:
    """A float as reported, without float noise and without a negative zero."""
    return round(float(value), PLACES) + 0.0


def mm(value: Length) -> float:
    """A length as reported."""
    return number(value.float_mm)
