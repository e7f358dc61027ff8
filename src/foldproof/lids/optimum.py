"""The best place of a turning lid and its hole, global, with a certificate.

    problem = problem_of(box, outline, brad, keep)           lids.optimum_problem
    best = best_hole(problem, Wish(goal="margin", uncovered=0.75), progress)
    for better in improving_holes(problem, wish): ...        the first answer comes at once
    best_cover(lid, rim, fixed=...)                          lids.optimum_cover, also largest_box, smallest_lid

Records are in ``lids.optimum_records``.
"""

from __future__ import annotations

from collections.abc import Iterator

from foldproof.lids.optimum_records import USUAL_AIMS, Aims, BestHole, HoleProblem, Wish
from foldproof.progress import Progress, unwatched


def best_hole(problem: HoleProblem, wish: Wish, progress: Progress = unwatched, aims: Aims = USUAL_AIMS) -> BestHole:
    """The best place for a lid and its hole, with what is proved of it.

    ``progress`` is told "lid_place" with the cells looked at; when it answers False the best so far comes back, its
    certificate ``stopped``. Raises InputError for outlines or wishes that cannot be used.
    """
    raise NotImplementedError


def improving_holes(problem: HoleProblem, wish: Wish, aims: Aims = USUAL_AIMS) -> Iterator[BestHole]:
    """The same as answers that get better: a good place at once, then tighter certificates; the last is the best.

    Simply stop asking to stop the search.
    """
    raise NotImplementedError
