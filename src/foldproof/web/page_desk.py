"""The design page: its leaf, empty but for its headings and its data; modules fill it and keep it true."""

from __future__ import annotations

from typing import Any

from foldproof.web.frame import frame
from foldproof.web.html import Markup, data_tag, tag
from foldproof.words.catalogue import ENGLISH, Language

MODULES = ("desk.js", "ribbon.js", "tour.js")


def desk_page(project_id: str, state: dict[str, Any], proved: dict[str, Any], *, language: Language = ENGLISH) -> str:
    """The page of one design; ``proved`` is its proof and model where they are known, else nothing."""
    main = [
        _top(state, language=language),
        tag("div", id="trouble"),
        tag("div", "", id="verdict", class_="verdict checking"),
        tag("div", _plate("fold", language=language), _plate("lid", language=language), class_="spread"),
        tag(
            "div",
            _plate("sheet", language=language),
            tag(
                "section",
                tag("h2", language.workbench.page["recipe"], id="recipe-title"),
                tag("div", "", id="recipe", class_="recipe"),
                class_="plate",
                aria_labelledby="recipe-title",
            ),
            class_="spread wide",
        ),
        tag("div", "", id="pieces", class_="recipe pieces"),
        tag(
            "section",
            tag("h2", language.workbench.page["proof"], id="proof-title", class_="large"),
            tag("p", language.workbench.page["proof_note"], class_="quiet"),
            tag("div", "", id="proof"),
            class_="section",
            aria_labelledby="proof-title",
        ),
        tag(
            "section",
            tag("h2", language.workbench.page["fit"], id="fit-title", class_="large"),
            tag("p", language.workbench.page["fit_note"], class_="quiet"),
            tag("div", "", id="fit"),
            class_="section",
            aria_labelledby="fit-title",
        ),
        tag(
            "section",
            tag("h2", language.workbench.page["more"], id="more-title", class_="large"),
            tag("p", language.workbench.page["more_note"], class_="quiet"),
            tag("div", "", id="more"),
            class_="section",
            aria_labelledby="more-title",
        ),
        _ways(project_id, language=language),
        tag("a", "", id="ribbon", href="#verdict", class_="ribbon"),
    ]
    return frame(
        title=str(state["name"]),
        main=main,
        modules=MODULES,
        data=[data_tag("desk", {"id": project_id, "state": state} | proved)],
        make=f"/p/{project_id}/make",
        language=language,
    )


def _top(state: dict[str, Any], *, language: Language = ENGLISH) -> Markup:
    return tag(
        "div",
        tag(
            "div",
            tag("h1", language.workbench.page["sentence"], class_="vh"),
            tag("label", language.workbench.page["name"], for_="name", class_="vh"),
            tag("input", id="name", class_="name", maxlength="300", value=str(state["name"]), autocomplete="off"),
            tag("p", "", id="sentence", class_="sentence"),
            tag("div", "", id="slip"),
            tag("div", "", id="build"),
        ),
        tag("aside", "", id="notes", class_="notes", aria_label=language.workbench.page["notes"]),
        class_="top",
    )


def _plate(name: str, *, language: Language = ENGLISH) -> Markup:
    return tag(
        "section",
        tag("h2", language.workbench.page[name], id=f"{name}-title"),
        tag("div", "", id=name),
        id=f"plate-{name}",
        class_="plate",
        aria_labelledby=f"{name}-title",
    )


def _ways(project_id: str, *, language: Language = ENGLISH) -> Markup:
    ways = (
        (f"/p/{project_id}/make", "make", "make_line"),
        (f"/p/{project_id}/resize", "resize", "resize_line"),
        ("/shapes", "shapes", "shapes_line"),
        ("/", "projects", "projects_line"),
    )
    return tag(
        "nav",
        [
            tag(
                "div",
                tag("h2", tag("a", language.workbench.page[title], href=address)),
                tag("p", language.workbench.page[line]),
            )
            for address, title, line in ways
        ],
        class_="ways",
        aria_label=language.workbench.page["ways_on"],
    )
