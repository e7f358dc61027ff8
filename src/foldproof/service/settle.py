"""Makes libraries that look round the machine when they start behave the same everywhere, and leave no traces."""

from __future__ import annotations

import json
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

DRAWING_LIBRARY = "ezdxf"
NO_FONTS = json.dumps({"version": 0, "font-faces": []})  # cut files hold no text


def settle() -> None:
    """Starts the DXF library once, with no fonts and no settings of the machine.

    Left alone it searches the machine for fonts, which takes seconds, writes the list into the home folder, and
    reads settings from there that would change what it writes.
    """
    if DRAWING_LIBRARY in sys.modules:
        return
    with tempfile.TemporaryDirectory(prefix="foldproof-") as folder:
        cache = Path(folder) / DRAWING_LIBRARY
        cache.mkdir()
        (cache / "font_manager_cache.json").write_text(NO_FONTS, encoding="utf-8")
        with _set({"XDG_CACHE_HOME": folder, "XDG_CONFIG_HOME": folder, "EZDXF_CONFIG_FILE": ""}):
            import ezdxf.filemanagement  # noqa: F401  (started here, used by the exports)


@contextmanager
def _set(names: dict[str, str]) -> Iterator[None]:
    """Environment variables for a while."""
    before = {name: os.environ.get(name) for name in names}
    os.environ.update(names)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value
