"""The page of shapes: read one, look whether the line is right, keep it, and make a lid of it."""

from __future__ import annotations

from typing import Any

from foldproof.web.frame import frame
from foldproof.web.html import data_tag, tag
from foldproof.words.catalogue import ENGLISH, Language


def shapes_page(told: dict[str, Any], *, language: Language = ENGLISH) -> str:
    """``told`` is the shelf and what can be chosen."""
    main = [
        tag("h1", language.workbench.page["shapes_title"], class_="page-title"),
        tag("p", language.workbench.page["shapes_intro"], class_="intro"),
        tag("div", id="trouble"),
        tag("div", "", id="drop"),
        tag("div", "", id="trace", aria_live="polite"),
        tag(
            "section",
            tag("h2", language.workbench.page["shelf"], class_="large"),
            tag("div", "", id="shelf"),
            class_="section",
        ),
    ]
    data = [data_tag("shapes", told)]
    return frame(
        title=language.workbench.page["shapes_title"],
        main=main,
        modules=("shapes.js",),
        data=data,
        current="shapes",
        language=language,
    )
