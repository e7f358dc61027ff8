"""The README's pictures are what the program draws today."""

from __future__ import annotations

import importlib.util
from pathlib import Path

DOCS = Path(__file__).parents[2] / "docs"


def test_the_pictures_are_fresh():
    spec = importlib.util.spec_from_file_location("draw_pictures", DOCS / "draw_pictures.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    drawn = module.drawn()
    stale = [name for name, data in drawn.items() if (DOCS / "pictures" / name).read_bytes() != data]
    assert not stale, f"run `python docs/draw_pictures.py`: {stale}"


def test_the_readme_shows_each_of_them():
    readme = (DOCS.parent / "README.md").read_text(encoding="utf-8")
    shown = {path.name for path in (DOCS / "pictures").glob("*.svg")}
    assert shown and all(f"docs/pictures/{name}" in readme for name in shown)
