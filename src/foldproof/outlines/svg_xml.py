"""The elements of an SVG file, read so that nothing in it is run, fetched or unfolded.

A script, anything that would run on its own, an address outside the file, and declarations of entities are refused.
They have no place in a drawing of a shape, and a file that holds them is not what the maker takes it for.
"""

from __future__ import annotations

import re
from xml.etree.ElementTree import Element, TreeBuilder
from xml.parsers import expat

from foldproof.errors import InputError, wrong
from foldproof.outlines.budget import FILE, Budget, refuse_large

SVG_NAMESPACE = "http://www.w3.org/2000/svg"
MOST_NESTING = 64  # of groups; drawing programs nest a handful

BORROWED = ("href", "label")  # attributes of other namespaces that tell what a drawing shows and calls its shapes

PACKED_MARK = b"\x1f\x8b"  # of a file packed with gzip (RFC 1952)
PUBLIC_DOCTYPE = "-//W3C//DTD SVG"  # how the standard's own document type begins; it is not fetched either

_ADDRESS = re.compile(r"url\(\s*['\"]?\s*([^'\")\s]*)", re.IGNORECASE)
_IMPORT = re.compile(r"@import", re.IGNORECASE)
_OURS = ("#", "data:image/", "data:font/", "data:application/font", "data:application/x-font")


def svg_root(data: bytes, budget: Budget) -> Element:
    """The root element; names are without namespaces, elements of other namespaces are left out.

    Raises InputError (field "the file") when it is no SVG, too large, broken off, or holds what is refused.
    """
    refuse_large(data)
    if data.startswith(PACKED_MARK):
        raise wrong(FILE, "", "is a packed SVG", "save it as plain SVG")
    building = _Building(budget)
    parser = expat.ParserCreate(namespace_separator="}")
    parser.buffer_text = True
    parser.StartElementHandler = building.start
    parser.EndElementHandler = building.end
    parser.CharacterDataHandler = building.text
    parser.StartDoctypeDeclHandler = _doctype
    parser.EntityDeclHandler = _entity
    parser.ProcessingInstructionHandler = _instruction
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        reason = "is broken off, or is no SVG" if building.started else "is no SVG"
        told = f"line {error.lineno}"
        raise wrong(FILE, told, reason, "save it again as plain SVG") from error
    except (LookupError, ValueError) as error:  # an encoding that is unknown, or stateful
        raise wrong(FILE, "", "is written in characters that cannot be read", "save it as UTF-8") from error
    return building.done()


class _Building:
    """The elements so far. Grows while the parser reports, so it is no record."""

    def __init__(self, budget: Budget) -> None:
        self._budget = budget
        self._tree = TreeBuilder()
        self._depth = 0
        self._foreign = 0  # depth within an element of another namespace; 0: outside
        self.started = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        self._depth += 1
        if self._depth > MOST_NESTING:
            raise wrong(FILE, "", f"has groups more than {MOST_NESTING} deep", "save the outline alone, as plain SVG")
        self._budget.spend("elements", 1)
        namespace, _, local = name.rpartition("}")
        refuse_harmful(local, attributes)
        if not self.started and (local != "svg" or namespace not in ("", SVG_NAMESPACE)):
            raise wrong(FILE, f"<{local[:40]}>", "is no SVG", "save the drawing as plain SVG")
        if self._foreign or namespace not in ("", SVG_NAMESPACE):
            self._foreign += 1
            return
        self.started = True
        # A name of the standard itself goes before one of the same sound in another namespace.
        plain = {key: value for key, value in attributes.items() if "}" not in key}
        borrowed = {key.rpartition("}")[2]: value for key, value in attributes.items() if "}" in key}
        self._tree.start(local, {key: borrowed[key] for key in BORROWED if key in borrowed} | plain)

    def end(self, name: str) -> None:
        self._depth -= 1
        if self._foreign:
            self._foreign -= 1
            return
        self._tree.end(name.rpartition("}")[2])

    def text(self, text: str) -> None:
        if self.started and not self._foreign:
            self._tree.data(text)

    def done(self) -> Element:
        return self._tree.close()


def refuse_harmful(name: str, attributes: dict[str, str]) -> None:
    """InputError for an element that would run, or refers to something outside the file."""
    if name.lower() == "script":
        raise _script(f"<{name}>")
    for key, value in attributes.items():
        local = key.rpartition("}")[2].lower()
        if local.startswith("on") and len(local) > 2:
            raise _script(local)
        if local in ("href", "src"):
            refuse_outside(value)
        refuse_addresses(value)


def refuse_addresses(text: str) -> None:
    """InputError for style text that refers to something outside the file."""
    if _IMPORT.search(text):
        raise _outside("@import")
    for address in _ADDRESS.finditer(text):
        refuse_outside(address[1])


def refuse_outside(address: str) -> None:
    """InputError for an address that is neither a place in this file nor a picture held in it."""
    plain = "".join(address.split()).lower()
    if plain.startswith("javascript:"):
        raise _script(address)
    if plain and not plain.startswith(_OURS):
        raise _outside(address)


def _script(told: str) -> InputError:
    return wrong(FILE, told[:40], "holds a script", "save the drawing as plain SVG, without scripts")


def _outside(told: str) -> InputError:
    reason = "refers to something outside itself, which is not fetched"
    return wrong(FILE, told[:80], reason, "take the link out, or save the outline alone as plain SVG")


def _doctype(name: str, system: str | None, public: str | None, inside: int) -> None:
    if inside:
        raise _declared()
    if system and not (public or "").startswith(PUBLIC_DOCTYPE):
        raise _outside(system)


def _entity(*_: object) -> None:
    raise _declared()


def _declared() -> InputError:
    reason = "declares entities, which can unfold into a file without end"
    return wrong(FILE, "<!DOCTYPE … [", reason, "save the drawing as plain SVG")


def _instruction(target: str, text: str) -> None:
    if target.lower() == "xml-stylesheet":
        raise _outside(text)
