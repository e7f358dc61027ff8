"""HTML by plain calls. Every text is escaped here, so no name a file contains is ever markup."""

from __future__ import annotations

import html
import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

VOID = frozenset({"br", "hr", "img", "input", "link", "meta"})


@dataclass(frozen=True, slots=True)
class Markup:
    """HTML that is whole and safe: made by ``tag``, or text that was escaped."""

    text: str


Child = Markup | str | None


def tag(name: str, /, *children: Child | Iterable[Child], **attributes: str | bool | int | None) -> Markup:
    """An element. ``class_`` and ``for_`` lose their underscore, others become hyphens; False and None are left out."""
    told = "".join(_attribute(key, value) for key, value in attributes.items())
    if name in VOID:
        return Markup(f"<{name}{told}>")
    return Markup(f"<{name}{told}>{_inside(children)}</{name}>")


def _attribute(key: str, value: str | bool | int | None) -> str:
    if value is None or value is False:
        return ""
    name = key.rstrip("_").replace("_", "-")
    return f" {name}" if value is True else f' {name}="{html.escape(str(value))}"'


def _inside(children: Iterable[Child | Iterable[Child]]) -> str:
    found = []
    for child in children:
        if isinstance(child, Markup):
            found.append(child.text)
        elif isinstance(child, str):
            found.append(html.escape(child, quote=False))
        elif child is not None:
            found.append(_inside(child))
    return "".join(found)


def data_tag(name: str, data: Any) -> Markup:
    """Data for the page's modules, as JSON that cannot end its own element."""
    text = json.dumps(data, ensure_ascii=False, allow_nan=False)
    safe = text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")
    return Markup(f'<script type="application/json" id="{html.escape(name)}">{safe}</script>')


def document(
    *, title: str, language: str, body: Iterable[Child], modules: Iterable[str], data: Iterable[Markup]
) -> str:
    """A whole page: its style sheet, its body, its data, and the modules that bring it to life."""
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="color-scheme", content="light dark"),
        tag("title", title),
        tag("link", rel="icon", href="/static/mark.svg", type="image/svg+xml"),
        tag("link", rel="stylesheet", href="/fonts/faces.css"),
        tag("link", rel="stylesheet", href="/static/page.css"),
        [tag("script", type="module", src=f"/static/{module}") for module in modules],
    )
    page = tag("html", head, tag("body", list(body), list(data)), lang=language)
    return f"<!doctype html>\n{page.text}\n"
