"""The public names: read a project, measure it, fit it, prove it, pack it.

    project = read_project(text)
    proof = prove(measure(project))
    files = pack(project, text).files

All are plain functions on frozen records; none touches files, clocks or the terminal. Wrong input raises
InputError with every problem; work that a Progress stops raises Stopped or returns what it has.
"""

from __future__ import annotations

from foldproof.checks.proof import Mend, Proof
from foldproof.design.fit import filled, fit
from foldproof.design.fit_answers import FitAnswer, Fitted
from foldproof.design.measure import Measured, measure
from foldproof.design.mend import with_mends
from foldproof.design.pack import Pack, PackFile, pack
from foldproof.design.prove import prove
from foldproof.errors import InputError, Problem
from foldproof.progress import Progress, Stopped, unwatched
from foldproof.project.read import read_project
from foldproof.project.records import Part, Project

__all__ = [
    "FitAnswer",
    "Fitted",
    "InputError",
    "Measured",
    "Mend",
    "Pack",
    "PackFile",
    "Part",
    "Problem",
    "Progress",
    "Project",
    "Proof",
    "Stopped",
    "filled",
    "fit",
    "measure",
    "pack",
    "prove",
    "read_project",
    "unwatched",
    "with_mends",
]
