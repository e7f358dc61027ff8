"""Draws the README's pictures from the examples: ``python docs/draw_pictures.py`` writes docs/pictures/.

A test draws them again and compares, so that what the README shows is what the program makes.
"""

from __future__ import annotations

import sys
from pathlib import Path

from foldproof.api import pack, read_project
from foldproof.service.starting import example_text

# picture: (example, file in its pack)
PICTURES: dict[str, tuple[str, str]] = {
    "keepsake.svg": ("tidepool", "pictures/finished.svg"),
    "opens.svg": ("tidepool", "pictures/lid-opened.svg"),
    "score.svg": ("pebble-metric", "pictures/step-02.svg"),
    "fold.svg": ("pebble-metric", "pictures/step-08.svg"),
}


def drawn() -> dict[str, bytes]:
    """Every picture by its file name."""
    files: dict[str, dict[str, bytes]] = {}
    for example in sorted({example for example, _ in PICTURES.values()}):
        text = example_text(example)
        files[example] = {file.path: file.data for file in pack(read_project(text), text).files}
    return {name: files[example][path] for name, (example, path) in PICTURES.items()}


def main() -> None:
    """Writes the pictures beside this file."""
    folder = Path(__file__).parent / "pictures"
    folder.mkdir(exist_ok=True)
    for name, data in drawn().items():
        (folder / name).write_bytes(data)
        sys.stdout.write(f"{folder.name}/{name}\n")


if __name__ == "__main__":
    main()
