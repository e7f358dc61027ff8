"""The frame of every page: its head, its main part, what tells a screen reader, and the words of its modules."""

from __future__ import annotations

from foldproof.errors import Problem
from foldproof.teach.wording_workbench import LANGUAGE, PAGE
from foldproof.web.html import Markup, data_tag, document, tag


def head(current: str = "", make: str = "") -> Markup:
    """The line at the top of every page: the name, the ways through, and the pack of the design that is open."""
    ways = (("/", "projects"), ("/shapes", "shapes"), ("/share", "share"))
    links = [
        tag("a", PAGE[key], href=address, aria_current="page" if key == current else None) for address, key in ways
    ]
    if make:
        links.append(tag("a", PAGE["make"], href=make, class_="do"))
    return tag(
        "header",
        tag("a", PAGE["brand"], href="/", class_="brand"),
        tag("nav", links, aria_label=PAGE["nav"]),
        class_="head",
    )


def frame(
    *,
    title: str,
    main: list[Markup],
    modules: tuple[str, ...],
    data: list[Markup],
    current: str = "",
    make: str = "",
    alone: bool = False,
) -> str:
    """A page. One that stands ``alone`` has no ways to other pages: whoever sees it may not go there yet."""
    top = tag("header", tag("p", PAGE["brand"], class_="brand"), class_="head") if alone else head(current, make)
    body = [
        tag("a", PAGE["skip"], href="#main", class_="skip"),
        tag("div", top, tag("main", main, id="main", tabindex="-1"), class_="leaf"),
        tag("p", "", id="told", class_="vh", role="status", aria_live="polite"),
    ]
    return document(
        title=f"{title} · {PAGE['brand']}",
        language=LANGUAGE,
        body=body,
        modules=modules,
        data=[data_tag("words", dict(PAGE)), *data] if modules else [],
    )


def trouble_page(problems: tuple[Problem, ...]) -> str:
    """A page that is not there, or cannot be shown, and why."""
    main = [
        tag("h1", PAGE["trouble_title"], class_="page-title"),
        *(tag("p", f"{each.value} {each.reason}: {each.remedy}.".strip(), class_="intro") for each in problems),
        tag("p", tag("a", PAGE["projects"], href="/", class_="link")),
    ]
    return frame(title=PAGE["trouble_title"], main=main, modules=(), data=[])
