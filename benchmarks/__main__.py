"""`python -m benchmarks`: a table of times, each against its aim, with the answers checked in the same run."""

from __future__ import annotations

import sys

from benchmarks import lids, pack, web
from benchmarks.against_plain import comparison
from benchmarks.example import example_rows
from benchmarks.growth import growth_rows
from benchmarks.optimum import print_optimum
from benchmarks.photograph import ERROR_HEADS, FEW, STAGE_HEADS, error_rows, stage_rows
from benchmarks.start import start_rows
from benchmarks.table import print_rows


def main() -> None:
    """Prints every table; ends with 1 when the two versions give different answers."""
    print_rows("A double-wall tray, warm", ("what", "time", "aim"), example_rows())
    compared = comparison()
    print_rows("Against the straightforward version", ("what", "engine", "plain", "ratio", "aim"), compared.rows)
    print(compared.note)
    print_rows("Start", ("what", "time", "aim"), start_rows())
    print_rows("Growth: pleated strips with wings", ("panels", "time", "states", "orders", "all seen"), growth_rows())
    print_rows("A photograph, warm", STAGE_HEADS, stage_rows())
    rows, held = error_rows(FEW, 1)
    print_rows("A photograph against the true outline", ERROR_HEADS, rows)
    lids.main()
    pack.main()
    web.main()
    if not held:
        sys.exit("an outline from a photograph is farther off than it may be")
    if not print_optimum():
        sys.exit("a plain search found a lid's place beyond a proved bound")
    if not compared.same_answers:
        sys.exit("the two versions do not give the same answers")


if __name__ == "__main__":
    main()
