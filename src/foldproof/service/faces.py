"""A folder that holds the faces of every paper and nothing else, for the compiler that sets the booklet."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import as_file, files
from pathlib import Path

from foldproof.drawing.fonts import FACE_FILES


@contextmanager
def face_folder() -> Iterator[str]:
    """The folder's path, while the block runs. The faces are installed in two font formats: this holds one of each."""
    with tempfile.TemporaryDirectory(prefix="foldproof-") as folder:
        for package, name in FACE_FILES.values():
            with as_file(files(package).joinpath("files", name)) as face:
                shutil.copyfile(face, Path(folder) / name)
        yield folder
