"""The page of everything a maker keeps, and of beginning something new."""

from __future__ import annotations

from typing import Any

from foldproof.web.frame import frame
from foldproof.web.html import Markup, data_tag, tag
from foldproof.words.catalogue import ENGLISH, Language

MODULES = ("home.js",)


def home_page(home: dict[str, Any], *, language: Language = ENGLISH) -> str:
    """``home`` is what the page shows: the kept projects, the bin, the families and the examples."""
    main = [
        tag("h1", language.workbench.page["home_title"], class_="page-title"),
        tag("p", language.workbench.page["home_line"], class_="quiet"),
        tag("div", id="trouble"),
        tag("section", tag("div", "", id="kept"), class_="section", aria_label=language.workbench.page["home_title"]),
        tag(
            "section",
            tag("h2", language.workbench.page["begin"], class_="large"),
            tag("div", "", id="begin"),
            class_="section",
        ),
        tag("section", tag("div", "", id="away"), class_="section", aria_label=language.workbench.page["put_away"]),
    ]
    data = [data_tag("home", home)]
    return frame(
        title=language.workbench.page["home_title"],
        main=main,
        modules=MODULES,
        data=data,
        current="projects",
        language=language,
    )


def notes_page(project_id: str, name: str, notes: list[dict[str, Any]], *, language: Language = ENGLISH) -> str:
    """Every version of one project, two of them side by side."""
    title = language.workbench.page["notes_title"].replace("{name}", name)
    main: list[Markup] = [
        tag("h1", title, class_="page-title"),
        tag("p", language.workbench.page["notes_line"], class_="quiet"),
        tag("p", tag("a", language.workbench.page["back_to_design"], href=f"/p/{project_id}", class_="link")),
        tag("div", id="trouble"),
        tag("div", "", id="all-notes"),
        tag("section", "", id="compared", class_="section", aria_live="polite"),
    ]
    data = [data_tag("history", {"id": project_id, "notes": notes})]
    return frame(title=title, main=main, modules=("history.js",), data=data, language=language)


def resize_page(project_id: str, state: dict[str, Any], *, language: Language = ENGLISH) -> str:
    """The page on which a design is made again in another size: its lengths, to be changed."""
    name = str(state["name"])
    lengths = [
        {"path": each["phrase"], "label": each["control"]["label"], "value": each["control"]["value"]}
        for each in state["sentence"]
        if each.get("control", {}).get("kind") == "length" and each["state"] != "usual"
    ]
    main = [
        tag("h1", language.workbench.page["resize_title"].replace("{name}", name), class_="page-title", dir="auto"),
        tag("p", language.workbench.page["resize_intro"], class_="quiet"),
        tag("p", tag("a", language.workbench.page["back_to_design"], href=f"/p/{project_id}", class_="link")),
        tag("div", id="trouble"),
        tag("div", "", id="resize"),
    ]
    data = [data_tag("sizes", {"id": project_id, "name": name, "lengths": lengths})]
    return frame(
        title=language.workbench.page["resize_title"].replace("{name}", name),
        main=main,
        modules=("resize.js",),
        data=data,
        language=language,
    )
