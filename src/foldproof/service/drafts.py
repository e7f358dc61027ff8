"""Work on a kept project: each edit is a version on the disk before it is answered, so a stop loses nothing.

A draft is what one window knows: which version it made its edits on. There is nothing else to lose.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from foldproof.design.merging import Whose
from foldproof.design.text_edits import MISSING, Edit, is_rows, told_path, with_edits
from foldproof.design.text_edits import Path as Place
from foldproof.errors import wrong
from foldproof.project.problems import in_short
from foldproof.project.syntax import parse_toml
from foldproof.project.write import with_change
from foldproof.service.keeping.reading import open_kept
from foldproof.service.keeping.records import Clashed, Saved
from foldproof.service.keeping.saving import redo, save, undo
from foldproof.service.keeping.shelving import start

Plain = str | int | float


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A project as one window has it."""

    id: str
    version: int
    text: str
    what: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One edit: the value at a path (``parts.tray.wall_height``) set, or taken out where it is None.

    A heading can be taken out too. At a number in a list of headings (``parts.lid.layers.2``) keys and their values
    put a new row there; the number after the last adds one at the end.
    """

    path: str
    value: Plain | Mapping[str, Plain] | None


def begin(folder: Path, text: str, *, when: str) -> Draft:
    """Keeps a new project, and a draft of it. Raises InputError for a text that is no project."""
    return resume(folder, start(folder, text, when=when))


def resume(folder: Path, project_id: str) -> Draft:
    """A draft of a kept project as it stands. Raises InputError when there is none."""
    opened = open_kept(folder, project_id)
    return Draft(id=project_id, version=opened.version, text=opened.text)


def edit(
    folder: Path,
    draft: Draft,
    settings: tuple[Setting, ...],
    *,
    when: str,
    what: str = "",
    choices: Mapping[str, Whose] | None = None,
) -> Draft | Clashed:
    """The draft with the edits, made together and kept as one version.

    What was changed elsewhere since is merged into it. Raises InputError, with nothing changed, when the edits make
    no project.
    """
    text = draft.text
    for setting in settings:
        text = _with_setting(text, setting)
    return edit_text(folder, draft, text, when=when, what=what, choices=choices)


def edit_text(
    folder: Path, draft: Draft, text: str, *, when: str, what: str = "", choices: Mapping[str, Whose] | None = None
) -> Draft | Clashed:
    """As edit, with the whole text as it is to be."""
    saved = save(folder, draft.id, text, draft.version, what, when=when, choices=choices)
    return saved if isinstance(saved, Clashed) else _after(draft, saved)


def undone(folder: Path, draft: Draft, *, when: str) -> Draft:
    """The draft with its last edit undone. Raises InputError as ``keeping.undo`` does."""
    return _after(draft, undo(folder, draft.id, draft.version, when=when))


def redone(folder: Path, draft: Draft, *, when: str) -> Draft:
    """The draft with what was undone done again. Raises InputError as ``keeping.redo`` does."""
    return _after(draft, redo(folder, draft.id, draft.version, when=when))


def _after(draft: Draft, saved: Saved) -> Draft:
    return Draft(id=draft.id, version=saved.version, text=saved.text, what=saved.what)


# --- Settings in a text -------------------------------------------------------------------------------------


def _with_setting(text: str, setting: Setting) -> str:
    if isinstance(setting.value, Mapping):
        return _with_row(text, setting.path, setting.value)
    if setting.value is None:
        return _without(text, setting.path)
    return with_change(text, setting.path, setting.value)


def _without(text: str, path: str) -> str:
    tables = parse_toml(text)
    found = next((place for place, _ in _places((), tables) if told_path(place) == path), None)
    if found is None:
        raise wrong(in_short(path), "", "is not in the project", "name a value that is there")
    return with_edits(text, (Edit(path=found, before=None, after=MISSING),))


def _with_row(text: str, path: str, row: Mapping[str, Plain]) -> str:
    for place, value in _places((), parse_toml(text)):
        if is_rows(value):
            for number in range(len(value) + 1):
                if told_path((*place, number)) == path:
                    return with_edits(text, (Edit(path=(*place, number), before=MISSING, after=dict(row)),))
    raise wrong(in_short(path), "", "is no place for another one", "name a number in a list, or the one after the last")


def _places(path: Place, value: object) -> list[tuple[Place, object]]:
    """Every place in a file and what is there."""
    found: list[tuple[Place, object]] = [(path, value)] if path else []
    if isinstance(value, dict):
        for key, inner in value.items():
            found += _places((*path, key), inner)
    elif is_rows(value):
        for number, row in enumerate(value):
            found += _places((*path, number), row)
    return found
