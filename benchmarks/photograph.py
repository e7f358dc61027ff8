"""The outline from a photograph of 12 megapixels: time for each stage, and how far the trace is from the true edge.

``python -m benchmarks.photograph`` draws two shapes under every condition, ``... all`` all five, and sets the
straightforward way beside it. It ends with 1 when an outline is farther off than the aim, or than is said of it.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from benchmarks.photograph_cases import CONDITIONS, SHAPES, scene_of, strays
from benchmarks.photograph_plain import plain_outline
from benchmarks.photograph_scenes import MEGAPIXELS_12, Rendered, Scene, photographed
from benchmarks.table import milliseconds, print_rows, timed
from foldproof.outlines.photograph.reading import read_photograph
from foldproof.outlines.photograph.records import Photographed

STAGES = ("file decoded, picture upright", "sheet and lens found", "shape found", "edge traced", "measured, symmetry")
TIMED = ("rosette", "tilt both ways")
ROUNDS = 7
AIM_MS = 1000.0
AIM_MEAN_MM, AIM_WORST_MM = 0.3, 0.8
FEW = ("straight from above", "lens bow -4 %", "soft shadow, uneven light", "kraft sheet on oak")
STAGE_HEADS = ("12 megapixels", "time", "aim")
ERROR_HEADS = ("mm from the true edge", "mean", "worst", "stated", "plain mean", "plain worst", "ratio")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """One photograph: how far the trace is off on average and at its worst, what was said of it, and the plain way."""

    mean_mm: float
    worst_mm: float
    stated_mm: float
    plain_mean_mm: float
    plain_worst_mm: float

    @property
    def holds(self) -> bool:
        """Within the aims, and not farther off than is said."""
        return self.mean_mm <= min(AIM_MEAN_MM, self.stated_mm) and self.worst_mm <= AIM_WORST_MM


def main() -> int:
    """Prints both tables; 1 when a photograph does not hold, else 0."""
    print_rows("A photograph, warm", STAGE_HEADS, stage_rows())
    rows, held = error_rows(tuple(CONDITIONS), len(SHAPES) if sys.argv[1:] == ["all"] else 2)
    print_rows("Against the true outline", ERROR_HEADS, rows)
    return 0 if held else 1


def stage_rows() -> list[tuple[str, ...]]:
    """The middle one of several times, stage by stage, and of the plain way."""
    scene = scene_of(*TIMED, MEGAPIXELS_12)
    rendered = photographed(scene)
    rounds = [_stage_seconds(rendered, scene) for _ in range(ROUNDS + 1)][1:]
    stages = np.median(np.array(rounds), axis=0)
    plain = sorted(timed(lambda: plain_outline(rendered.data, scene.sheet_mm))[1] for _ in range(ROUNDS))[ROUNDS // 2]
    total = float(np.median([sum(each) for each in rounds]))
    rows: list[tuple[str, ...]] = [(name, milliseconds(s), "") for name, s in zip(STAGES, stages, strict=True)]
    rows.append(("all of it", milliseconds(total), f"{AIM_MS:,.0f} ms"))
    rows.append((f"the plain way ({total / plain:.1f} times less)", milliseconds(plain), ""))
    return rows


def _stage_seconds(rendered: Rendered, scene: Scene) -> list[float]:
    """How long each stage took, told by the reading's own progress."""
    at: list[float] = []

    def told(stage: str, done: int, total: int) -> bool:
        at.append(time.perf_counter())
        return True

    read_photograph(rendered.data, *scene.sheet_mm, progress=told)
    return [after - before for before, after in pairwise(at)]


def error_rows(conditions: Sequence[str], shapes: int) -> tuple[list[tuple[str, ...]], bool]:
    """A row for each condition, over so many shapes each, and whether every photograph holds."""
    names = list(SHAPES)
    rows, every = [], []
    for number, condition in enumerate(conditions):
        chosen = [names[(shapes * number + k) % len(names)] for k in range(shapes)]
        tried = [_tried(scene_of(shape, condition, MEGAPIXELS_12)) for shape in chosen]
        rows.append(_row(condition, tried))
        every += tried
    rows.append(_row("all", every))
    return rows, all(each.holds for each in every)


def _tried(scene: Scene) -> Tried:
    rendered = photographed(scene)
    # The sheets that are drawn have exactly their size, so nothing is allowed for that.
    read = read_photograph(rendered.data, *scene.sheet_mm, sheet_error_mm=0.0)
    mean, worst, stated = math.inf, math.inf, 0.0
    if isinstance(read, Photographed):
        mean, worst = strays(np.array(read.outline), scene)
        stated = read.accuracy_mm
    plain = plain_outline(rendered.data, scene.sheet_mm)
    plain_mean, plain_worst = (math.inf, math.inf) if plain is None else strays(plain, scene)
    return Tried(mean_mm=mean, worst_mm=worst, stated_mm=stated, plain_mean_mm=plain_mean, plain_worst_mm=plain_worst)


def _row(name: str, tried: Sequence[Tried]) -> tuple[str, ...]:
    mean = float(np.mean([each.mean_mm for each in tried]))
    plain = [each for each in tried if each.plain_mean_mm < math.inf]
    lost = len(tried) - len(plain)
    plain_mean = float(np.mean([each.plain_mean_mm for each in plain])) if plain else math.inf
    return (
        name,
        f"{mean:.3f}",
        f"{max(each.worst_mm for each in tried):.2f}",
        f"{min(each.stated_mm for each in tried):.2f}",
        (f"{plain_mean:.2f}" if plain else "–") + (f" ({lost} lost)" if lost else ""),
        f"{max(each.plain_worst_mm for each in plain):.1f}" if plain else "–",
        f"{plain_mean / mean:.0f}" if plain else "–",
    )


if __name__ == "__main__":
    raise SystemExit(main())
