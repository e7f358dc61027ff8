"""The frame of every page: its head, its main part, what tells a screen reader, and the words of its modules."""

from __future__ import annotations

from foldproof.errors import Problem
from foldproof.web.html import Markup, data_tag, document, tag
from foldproof.words.catalogue import ENGLISH, Language


def head(current: str = "", make: str = "", *, language: Language = ENGLISH) -> Markup:
    """The line at the top of every page: the name, the ways through, and the pack of the design that is open."""
    ways = (("/", "projects"), ("/shapes", "shapes"), ("/share", "share"))
    links = [
        tag("a", language.workbench.page[key], href=address, aria_current="page" if key == current else None)
        for address, key in ways
    ]
    if make:
        links.append(tag("a", language.workbench.page["make"], href=make, class_="do"))
    return tag(
        "header",
        tag("a", language.workbench.page["brand"], href="/", class_="brand"),
        tag("nav", links, aria_label=language.workbench.page["nav"]),
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
    language: Language = ENGLISH,
) -> str:
    """A page. One that stands ``alone`` has no ways to other pages: whoever sees it may not go there yet."""
    top = (
        tag("header", tag("p", language.workbench.page["brand"], class_="brand"), class_="head")
        if alone
        else head(current, make, language=language)
    )
    body = [
        tag("a", language.workbench.page["skip"], href="#main", class_="skip"),
        tag("div", top, tag("main", main, id="main", tabindex="-1"), class_="leaf"),
        tag("p", "", id="told", class_="vh", role="status", aria_live="polite"),
    ]
    return document(
        title=f"{title} · {language.workbench.page['brand']}",
        language=language.name,
        body=body,
        modules=modules,
        data=[data_tag("words", dict(language.workbench.page)), *data] if modules else [],
    )


def trouble_page(problems: tuple[Problem, ...], *, language: Language = ENGLISH) -> str:
    """A page that is not there, or cannot be shown, and why."""
    main = [
        tag("h1", language.workbench.page["trouble_title"], class_="page-title"),
        *(tag("p", f"{each.value} {each.reason}: {each.remedy}.".strip(), class_="intro") for each in problems),
        tag("p", tag("a", language.workbench.page["projects"], href="/", class_="link")),
    ]
    return frame(title=language.workbench.page["trouble_title"], main=main, modules=(), data=[], language=language)
