"""What an SVG says of how its shapes look, as far as their outlines depend on it: whether and how they are filled.

Attributes, the ``style`` attribute, and rules of style sheets in the file by name of element, class or id. Rules for
elements within others, and rules under a condition (``@media``), are not followed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from foldproof.outlines.budget import Budget
from foldproof.outlines.svg_values import unusable
from foldproof.outlines.svg_xml import refuse_addresses

INHERITED = ("fill", "fill-rule", "visibility")
OTHERS = ("display", "clip-path", "mask")
# A style may also move and shape things, which the attributes then do not tell.
SHAPING = ("transform", "translate", "rotate", "scale", "d", "cx", "cy", "r", "rx", "ry", "x", "y")
LOOK: Mapping[str, str] = {"fill": "black", "fill-rule": "nonzero", "visibility": "visible"}

_COMMENT = re.compile(r"/\*.*?(?:\*/|\Z)", re.DOTALL)
_SELECTOR = re.compile(r"([a-zA-Z][\w-]*|\*)?((?:[.#][\w-]+)*)")
_MARK = re.compile(r"[.#][\w-]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule of a style sheet for elements of a name ("" for all) that have all the classes and the id."""

    element: str
    classes: frozenset[str]
    id: str
    values: Mapping[str, str]

    @property
    def weight(self) -> tuple[bool, int, bool]:
        """The heavier of two rules holds: an id weighs more than classes, and these more than a name."""
        return (bool(self.id), len(self.classes), bool(self.element))


def rules_of(root: Element, budget: Budget) -> tuple[Rule, ...]:
    """The rules of all style sheets in the file, the lightest first, later ones after earlier ones.

    Raises InputError when a style sheet refers to something outside the file.
    """
    rules: list[Rule] = []
    for sheet in root.iter("style"):
        text = _COMMENT.sub(" ", "".join(sheet.itertext()))
        refuse_addresses(text)
        for selectors, body in _blocks(text):
            values = declarations(body)
            for selector in selectors.split(","):
                found = _SELECTOR.fullmatch(selector.strip())
                if found and values and selector.strip():
                    budget.spend("style rules", 1)
                    rules.append(_rule(found, values))
    return tuple(sorted(rules, key=lambda rule: rule.weight))


def _blocks(text: str) -> list[tuple[str, str]]:
    """Selectors and body of each rule on the outer level; blocks under a condition are left out."""
    found: list[tuple[str, str]] = []
    depth, start, selectors = 0, 0, ""
    for brace in re.finditer(r"[{}]", text):
        if brace[0] == "{":
            if depth == 0:
                selectors, start = text[start : brace.start()].rpartition(";")[2], brace.end()
            depth += 1
        elif depth > 0:
            depth -= 1
            if depth == 0:
                if not selectors.strip().startswith("@"):
                    found.append((selectors, text[start : brace.start()]))
                start = brace.end()
    return found


def _rule(selector: re.Match[str], values: Mapping[str, str]) -> Rule:
    marks = _MARK.findall(selector[2])
    ids = [mark[1:] for mark in marks if mark[0] == "#"]
    element = selector[1] or ""
    return Rule(
        element="" if element == "*" else element,
        classes=frozenset(mark[1:] for mark in marks if mark[0] == "."),
        id=ids[0] if ids else "",
        values=values,
    )


def declarations(body: str) -> dict[str, str]:
    """The properties we follow, of the text "fill: none; stroke: black". InputError when it moves or shapes things."""
    found: dict[str, str] = {}
    for part in body.split(";"):
        name, _, value = part.partition(":")
        name, value = name.strip().lower(), value.replace("!important", "").strip()
        if name in SHAPING and value and value.lower() not in ("none", "auto"):
            raise unusable(part, "moves or shapes things by its style, which is not read")
        if name in INHERITED or name in OTHERS:
            found[name] = value.lower()
    return found


def own_style(element: Element, rules: Sequence[Rule]) -> dict[str, str]:
    """What an element says itself: its attributes, over them the rules for it, over these its ``style``."""
    found = {name: element.get(name, "").strip().lower() for name in (*INHERITED, *OTHERS) if element.get(name)}
    classes = frozenset(element.get("class", "").split())
    for rule in rules:
        if (
            rule.element in ("", element.tag)
            and rule.classes <= classes
            and (not rule.id or rule.id == element.get("id"))
        ):
            found |= rule.values
    return found | declarations(element.get("style", ""))


def look_within(look: Mapping[str, str], own: Mapping[str, str]) -> dict[str, str]:
    """How an element looks that says so much itself, within one that looks so."""
    return {name: own[name] if own.get(name, "inherit") != "inherit" else look[name] for name in INHERITED}
