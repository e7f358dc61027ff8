"""The folder that keeps a maker's projects, each with its whole history.

``kept`` lists them and ``open_kept`` opens one; ``save`` keeps an edit as a version. Times are those of
``foldproof.service.world.now``, handed in by the caller.
"""

from foldproof.service.keeping.places import projects_folder
from foldproof.service.keeping.reading import compare, kept, open_kept, text_of, versions
from foldproof.service.keeping.records import Clashed, Kept, KeptText, Removed, Saved, Version
from foldproof.service.keeping.saving import go_to, note_verdict, redo, rename, save, undo
from foldproof.service.keeping.sending import bring_in, send_out
from foldproof.service.keeping.shelving import archive, copy, remove, removed, restore, start, take_back

__all__ = [
    "Clashed",
    "Kept",
    "KeptText",
    "Removed",
    "Saved",
    "Version",
    "archive",
    "bring_in",
    "compare",
    "copy",
    "go_to",
    "kept",
    "note_verdict",
    "open_kept",
    "projects_folder",
    "redo",
    "remove",
    "removed",
    "rename",
    "restore",
    "save",
    "send_out",
    "start",
    "take_back",
    "text_of",
    "undo",
    "versions",
]
