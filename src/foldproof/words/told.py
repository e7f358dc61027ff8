"""English: what is told in sentences, put together from the modules it stands in."""

from __future__ import annotations

from foldproof.words.cautions import CAUTIONS
from foldproof.words.common import ASSUMPTIONS, COMMON, STAGES, VERDICT
from foldproof.words.findings import FINDINGS, REASONS
from foldproof.words.lid_findings import LID_EACH, LID_FINDINGS
from foldproof.words.lid_step_texts import LAYER_ADHESIVES, LID_BENCH_STEPS, LID_FOLD_STEPS
from foldproof.words.parts import (
    CHANGES,
    FOLD_OF,
    PART_OF,
    PARTS,
    PIECES,
    PLACES,
    UNKNOWN_CHANGE,
    UNKNOWN_PART,
)
from foldproof.words.records import Catalogue
from foldproof.words.step_texts import ADHESIVES, BENCH_STEPS, FOLD_STEPS, STEP_AGAIN, STEP_SLIDES
from foldproof.words.terms import TERMS

TOLD = Catalogue(
    common=COMMON,
    verdict=VERDICT,
    findings={**FINDINGS, **LID_FINDINGS},
    each=LID_EACH,
    reasons=REASONS,
    pieces=PIECES,
    parts=PARTS,
    places=PLACES,
    unknown_part=UNKNOWN_PART,
    fold_of=FOLD_OF,
    part_of=PART_OF,
    changes=CHANGES,
    unknown_change=UNKNOWN_CHANGE,
    assumptions=ASSUMPTIONS,
    stages=STAGES,
    bench_steps={**BENCH_STEPS, **LID_BENCH_STEPS},
    fold_steps={**FOLD_STEPS, **LID_FOLD_STEPS},
    adhesives=ADHESIVES,
    layer_adhesives=LAYER_ADHESIVES,
    step_again=STEP_AGAIN,
    step_slides=STEP_SLIDES,
    cautions=CAUTIONS,
    terms=TERMS,
)
