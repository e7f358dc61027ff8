"""Making a pack and putting it in its folder."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from foldproof.checks.proof import Verdict
from foldproof.design.pack import pack
from foldproof.progress import Progress, Stopped
from foldproof.service.faces import face_folder
from foldproof.service.packs import refuse_foreign, write_pack
from foldproof.service.projects import Opened
from foldproof.views.report import Report

WORDS = """{headline} {line}
{count} files are in {folder}
  read and print  {folder}/booklet.pdf, {folder}/booklet-print.pdf, {folder}/table-card.pdf
  score and cut   {folder}/score-plan.pdf, {folder}/templates.pdf, {folder}/cut
  fold and glue   {folder}/steps.md
  the proof       {folder}/proof.txt"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """A pack that was written: its verdict, whether alternatives are proved too, its report, and what to say of it."""

    verdict: Verdict
    all_proved: bool
    report: Report
    words: str


@contextmanager
def collecting_later() -> Iterator[None]:
    """Leaves cycles of objects to be collected after the block.

    A pack keeps nearly all that it makes until it is done: looking through it again and again frees nothing, and
    takes a tenth of the time.
    """
    collects = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collects:
            gc.enable()


def pack_project(opened: Opened, folder: str | Path, progress: Progress) -> Packed:
    """Proves the project, makes all its files, and puts them in ``folder`` at one stroke.

    Raises InputError for wrong input and a folder that must not be replaced, both before any work where that can
    be known; Stopped when the caller stops it. In both cases the folder is as it was.
    """
    refuse_foreign(folder)
    with face_folder() as faces, collecting_later():
        made = pack(opened.project, opened.text, progress, font_folders=(faces,))
    if not progress("files", 0, 1):
        raise Stopped
    write_pack(folder, tuple((file.path, file.data) for file in made.files))
    words = WORDS.format(headline=made.told.headline, line=made.told.line, count=len(made.files), folder=folder)
    return Packed(verdict=made.verdict, all_proved=made.proof.all_proved, report=made.report, words=words)
