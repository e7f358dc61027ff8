"""The design page: its leaf, empty but for its headings and its data; modules fill it and keep it true."""

from __future__ import annotations

from typing import Any

from foldproof.teach.wording_workbench import PAGE
from foldproof.web.frame import frame
from foldproof.web.html import Markup, data_tag, tag

MODULES = ("desk.js", "ribbon.js", "tour.js")


def desk_page(project_id: str, state: dict[str, Any], proved: dict[str, Any]) -> str:
    """The page of one design; ``proved`` is its proof and model where they are known, else nothing."""
    main = [
        _top(state),
        tag("div", id="trouble"),
        tag("div", "", id="verdict", class_="verdict checking"),
        tag("div", _plate("fold"), _plate("lid"), class_="spread"),
        tag(
            "div",
            _plate("sheet"),
            tag(
                "section",
                tag("h2", PAGE["recipe"], id="recipe-title"),
                tag("div", "", id="recipe", class_="recipe"),
                class_="plate",
                aria_labelledby="recipe-title",
            ),
            class_="spread wide",
        ),
        tag("div", "", id="pieces", class_="recipe pieces"),
        tag(
            "section",
            tag("h2", PAGE["proof"], id="proof-title", class_="large"),
            tag("p", PAGE["proof_note"], class_="quiet"),
            tag("div", "", id="proof"),
            class_="section",
            aria_labelledby="proof-title",
        ),
        tag(
            "section",
            tag("h2", PAGE["fit"], id="fit-title", class_="large"),
            tag("p", PAGE["fit_note"], class_="quiet"),
            tag("div", "", id="fit"),
            class_="section",
            aria_labelledby="fit-title",
        ),
        tag(
            "section",
            tag("h2", PAGE["more"], id="more-title", class_="large"),
            tag("p", PAGE["more_note"], class_="quiet"),
            tag("div", "", id="more"),
            class_="section",
            aria_labelledby="more-title",
        ),
        _ways(project_id),
        tag("a", "", id="ribbon", href="#verdict", class_="ribbon"),
    ]
    return frame(
        title=str(state["name"]),
        main=main,
        modules=MODULES,
        data=[data_tag("desk", {"id": project_id, "state": state} | proved)],
        make=f"/p/{project_id}/make",
    )


def _top(state: dict[str, Any]) -> Markup:
    return tag(
        "div",
        tag(
            "div",
            tag("h1", PAGE["sentence"], class_="vh"),
            tag("label", PAGE["name"], for_="name", class_="vh"),
            tag("input", id="name", class_="name", maxlength="300", value=str(state["name"]), autocomplete="off"),
            tag("p", "", id="sentence", class_="sentence"),
            tag("div", "", id="slip"),
            tag("div", "", id="build"),
        ),
        tag("aside", "", id="notes", class_="notes", aria_label=PAGE["notes"]),
        class_="top",
    )


def _plate(name: str) -> Markup:
    return tag(
        "section",
        tag("h2", PAGE[name], id=f"{name}-title"),
        tag("div", "", id=name),
        id=f"plate-{name}",
        class_="plate",
        aria_labelledby=f"{name}-title",
    )


def _ways(project_id: str) -> Markup:
    ways = (
        (f"/p/{project_id}/make", "make", "make_line"),
        (f"/p/{project_id}/resize", "resize", "resize_line"),
        ("/shapes", "shapes", "shapes_line"),
        ("/", "projects", "projects_line"),
    )
    return tag(
        "nav",
        [
            tag("div", tag("h2", tag("a", PAGE[title], href=address)), tag("p", PAGE[line]))
            for address, title, line in ways
        ],
        class_="ways",
        aria_label=PAGE["ways_on"],
    )
