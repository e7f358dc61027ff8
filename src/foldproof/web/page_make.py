"""The page of a design's pack: made at a press, every page of it to look at, to print and to save."""

from __future__ import annotations

from typing import Any

from foldproof.web.frame import frame
from foldproof.web.html import data_tag, tag
from foldproof.words.catalogue import ENGLISH, Language


def make_page(project_id: str, name: str, data: dict[str, Any], *, language: Language = ENGLISH) -> str:
    """``data``: id, version, verdict, and the pack that was made last, if there is one."""
    title = language.workbench.page["make_title"].replace("{name}", name)
    main = [
        tag("h1", title, class_="page-title", dir="auto"),
        tag("p", language.workbench.page["make_begin"], class_="quiet"),
        tag("p", tag("a", language.workbench.page["back_to_design"], href=f"/p/{project_id}", class_="link")),
        tag("div", id="trouble"),
        tag("div", "", id="making"),
        tag("div", "", id="pages"),
    ]
    return frame(title=title, main=main, modules=("make.js",), data=[data_tag("make", data)], language=language)
