"""The page of shapes: read one, look whether the line is right, keep it, and make a lid of it."""

from __future__ import annotations

from typing import Any

from foldproof.teach.wording_workbench import PAGE
from foldproof.web.frame import frame
from foldproof.web.html import data_tag, tag


def shapes_page(told: dict[str, Any]) -> str:
    """``told`` is the shelf and what can be chosen."""
    main = [
        tag("h1", PAGE["shapes_title"], class_="page-title"),
        tag("p", PAGE["shapes_intro"], class_="intro"),
        tag("div", id="trouble"),
        tag("div", "", id="drop"),
        tag("div", "", id="trace", aria_live="polite"),
        tag(
            "section",
            tag("h2", PAGE["shelf"], class_="large"),
            tag("div", "", id="shelf"),
            class_="section",
        ),
    ]
    data = [data_tag("shapes", told)]
    return frame(title=PAGE["shapes_title"], main=main, modules=("shapes.js",), data=data, current="shapes")
