"""The page of a design's pack: made at a press, every page of it to look at, to print and to save."""

from __future__ import annotations

from typing import Any

from foldproof.teach.wording_workbench import PAGE
from foldproof.web.frame import frame
from foldproof.web.html import data_tag, tag


def make_page(project_id: str, name: str, data: dict[str, Any]) -> str:
    """``data``: id, version, verdict, and the pack that was made last, if there is one."""
    title = PAGE["make_title"].replace("{name}", name)
    main = [
        tag("h1", title, class_="page-title", dir="auto"),
        tag("p", PAGE["make_begin"], class_="quiet"),
        tag("p", tag("a", PAGE["back_to_design"], href=f"/p/{project_id}", class_="link")),
        tag("div", id="trouble"),
        tag("div", "", id="making"),
        tag("div", "", id="pages"),
    ]
    return frame(title=title, main=main, modules=("make.js",), data=[data_tag("make", data)])
