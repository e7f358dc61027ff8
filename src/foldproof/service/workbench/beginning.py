"""What a maker can begin with in the workbench: a family with sizes that work, an example, or the tour's first box."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Literal

from foldproof.errors import wrong
from foldproof.project.read import read_project
from foldproof.service.keeping.shelving import start
from foldproof.service.starting import construction_names, example_names, example_text, from_construction
from foldproof.service.world import now
from foldproof.words.catalogue import ENGLISH, Language

Unit = Literal["in", "cm"]

DEMO = "tidepool"  # what stands there at the first start, already proved
TRAY = {"in": ("3 1/4", "1 1/2"), "cm": ("8", "4")}  # base and wall of a first tray, on the usual grooves
CARD = {"in": "12x12", "cm": "A4"}
LID_VALUES = {"across": "work out", "hole_from_corner": "work out"}


def family_text(construction: str, unit: Unit, name: str, *, language: Language = ENGLISH) -> str:
    """A new project of one family. Raises InputError for a family there is not."""
    if construction not in construction_names():
        raise wrong("construction", construction[:60], "there is no such family", "choose one that is listed")
    base, wall = TRAY[unit]
    lid = construction not in ("double-wall tray", "plain tray")
    prefix = "parts.tray." if lid else ""
    values = {f"{prefix}base_length": base, f"{prefix}wall_height": wall, "cardstock.sheet": CARD[unit]}
    return from_construction(
        construction, name or language.workbench.new_name, unit, values | (LID_VALUES if lid else {})
    )


def tour_text(unit: Unit, *, language: Language = ENGLISH) -> str:
    """The box that the tour makes."""
    return family_text("double-wall tray", unit, language.workbench.tour_name, language=language)


def first_start(folder: Path) -> None:
    """Puts the demo there when nothing was ever kept, so that there is something to see."""
    if not folder.exists():
        start(folder, example_text(DEMO), when=now())


@lru_cache(maxsize=1)
def examples() -> tuple[tuple[str, str], ...]:
    """Every example: how to ask for it, and its name."""
    return tuple((each, read_project(example_text(each)).name) for each in example_names())
