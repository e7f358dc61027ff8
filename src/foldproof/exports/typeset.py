"""Documents as data for typesetting: words in runs, pictures as files, and the compiler's call.

Below the service nothing opens files, so all that is set is handed over in memory. Only the faces cannot be: the
caller names a folder that holds them.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from foldproof.drawing import scripts
from foldproof.drawing.fonts import FACE_FILES, glyph_of
from foldproof.drawing.records import Page
from foldproof.drawing.stretches import JOINERS, MARKS
from foldproof.drawing.style import HAIRLINE, INK, MADDER, SOFT, Palette
from foldproof.drawing.type import FRACTION
from foldproof.drawing.wording import one_line
from foldproof.exports.svg import page_svg

Data = dict[str, Any]
Files = dict[str, bytes]

ACCENT = "#27497d"  # titles and step numbers: 8.8 to 1 on white
STANDARD = "ua-1"  # PDF/UA-1, ISO 14289-1: tagged, every figure with its words
LONGEST_WORD = 40  # characters; as long a word may be broken anywhere, so that nothing runs off the page
LONGEST_CELL_WORD = 20  # the same in a table
OTHERS = "faces.json"  # the faces to ask for what the paper's own lack, in this order
BREAK = "\u200b"  # a line may end here
BREAK_EVERY = 6  # characters of a long word
BRACKETED = re.compile(r"\([^()]*\d[^()]*\s(?:in|cm|mm)\)")  # a size in the other unit
UNITS = r"(?:in|cm|mm|gsm|oz|g|sq in|cm²|mm²|%)(?![\w²])"
SIZE = re.compile(
    rf"(?P<sign>(?<!\w)[-+])?(?:(?:{FRACTION.pattern})(?P<unit> {UNITS})?|(?P<number>\d(?:[\d.,]*\d)?)(?P<of> {UNITS}))"
)
QUIET_MODULES = 4  # bare modules round a QR code (ISO/IEC 18004)


def runs(text: str, longest: int = LONGEST_WORD) -> list[Data]:
    """``text`` in runs: plain text, and sizes that stay whole; what stands in brackets in the other unit is soft."""
    cleaned = legible(text, longest)
    found: list[Data] = []
    done = 0
    for bracket in BRACKETED.finditer(cleaned):
        found += _sizes(cleaned[done : bracket.start()], soft=False)
        found += _sizes(bracket.group(), soft=True)
        done = bracket.end()
    return found + _sizes(cleaned[done:], soft=False)


def said(text: str, *, lead: bool = False, longest: int = LONGEST_WORD) -> Data:
    """Words with the heavy beginning apart: as far as the first colon or full stop, where ``lead`` asks for one."""
    head = re.match(r".*?[:.](?=\s)", text) if lead else None
    cut = head.end() if head else 0
    return {"lead": runs(text[:cut], longest), "rest": runs(text[cut:], longest)}


def whole_words(text: str) -> list[str]:
    """The words of ``text`` that may not be broken: a title is set so small that each fits its line."""
    return [word for word in legible(text).split() if BREAK not in word]


def legible(text: str, longest: int = LONGEST_WORD) -> str:
    """``text`` on one line in characters that some face has; others are told by name, and long words may be broken."""
    letters: list[str] = []
    face: str | None = ""
    for char in one_line(text):
        if char in JOINERS or unicodedata.category(char) in MARKS:
            known_there = char in JOINERS or scripts.has(face, char) if face else face == "" and _is_own(char)
            letters.append(char if known_there else "")
            continue
        known = " " if unicodedata.category(char) == "Zs" else char
        face = "" if _is_own(known) else scripts.other_face(known)
        letters.append(scripts.named(known) if face is None else known)
    return re.sub(rf"\S{{{longest},}}", _breakable, "".join(letters))


@cache
def _is_own(char: str) -> bool:
    """Whether all of the paper's own faces have it."""
    return all(glyph_of(face, char) for face in FACE_FILES)


def _breakable(long: re.Match[str]) -> str:
    word = long.group()
    return BREAK.join(word[start : start + BREAK_EVERY] for start in range(0, len(word), BREAK_EVERY))


def _sizes(text: str, *, soft: bool) -> list[Data]:
    found: list[Data] = []
    done = 0
    for size in SIZE.finditer(text):
        found += _plain(text[done : size.start()], soft)
        fraction = f"{size['above']}/{size['below']}" if size["above"] else ""
        whole = (size["whole"] or "") if fraction else size["number"]
        unit = size["unit"] or size["of"] or ""
        sign = size["sign"] or ""
        found.append(
            {"kind": "size", "soft": soft, "sign": sign, "whole": whole, "fraction": fraction, "unit": unit}
        )
        done = size.end()
    return found + _plain(text[done:], soft)


def _plain(text: str, soft: bool) -> list[Data]:
    """Text without sizes; a long word is a run of its own, in the pieces that it may be broken into."""
    return [
        {"kind": "long", "soft": soft, "pieces": part.split(BREAK)}
        if BREAK in part
        else {"kind": "text", "soft": soft, "text": part}
        for part in re.split(rf"(\S*{BREAK}\S*)", text)
        if part
    ]


# --- Pictures -----------------------------------------------------------------------------------------------


def picture(page: Page, palette: Palette, files: Files) -> Data:
    """A drawing at true size, put into ``files``."""
    name = f"picture-{len(files) + 1}.svg"
    files[name] = page_svg(page, palette=palette).encode("utf-8")
    return {"file": name, "alt": one_line(page.alt), "width": page.width_mm, "height": page.height_mm}


def qr_picture(target: str, alt: str, side_mm: float, files: Files) -> Data:
    """A QR code of ``target`` in lines, dark on bare paper, with its quiet zone (ISO/IEC 18004)."""
    import segno

    modules = [list(row) for row in segno.make(target, error="m", micro=False).matrix]
    side = len(modules) + 2 * QUIET_MODULES
    bars = "".join(
        f"M{x + QUIET_MODULES} {y + QUIET_MODULES}h1v1h-1z"
        for y, row in enumerate(modules)
        for x, dark in enumerate(row)
        if dark
    )
    name = f"code-{len(files) + 1}.svg"
    files[name] = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{side_mm}mm" height="{side_mm}mm" '
        f'viewBox="0 0 {side} {side}"><path fill="#000000" d="{bars}"/></svg>\n'
    ).encode("ascii")
    return {"file": name, "alt": one_line(alt), "width": side_mm, "height": side_mm}


# --- Setting ------------------------------------------------------------------------------------------------


def colours() -> dict[str, str]:
    """The few colours that words and rules are set in."""
    return {"ink": INK, "soft": SOFT, "accent": ACCENT, "madder": MADDER, "hairline": HAIRLINE}


def set_files(template: str, data: Data, files: Mapping[str, bytes]) -> Files:
    """All files of one setting, in memory: the template as the main file, its data and its pictures."""
    from importlib.resources import files as resources

    words = json.dumps(data, ensure_ascii=False, sort_keys=True)
    others = list(scripts.FAMILIES) if any(not _is_own(char) for char in set(words) - {BREAK}) else []
    return {
        "main.typ": resources("foldproof.exports").joinpath(f"{template}.typ").read_bytes(),
        f"{template}.json": words.encode("utf-8"),
        OTHERS: json.dumps(others).encode("utf-8"),
        **files,
    }


def set_pdf(files: Files, font_folders: Sequence[str]) -> bytes:
    """The files set as one PDF/UA-1 file. It carries no date; the same files and faces give the same bytes.

    ``font_folders`` hold the faces of ``drawing.fonts.FACE_FILES`` and no others of their families; without any, the
    faces are taken from where they were installed, and which of their two font formats is used depends on the disk.
    """
    import typst

    compiled: Any = typst.compile  # its types leave out files in memory
    made = compiled(
        files,
        format="pdf",
        font_paths=[*(font_folders or installed_faces()), *([other_faces()] if json.loads(files[OTHERS]) else [])],
        ignore_system_fonts=True,
        pdf_standards=[STANDARD],
    )
    assert isinstance(made, bytes), "one PDF comes as one string of bytes"
    return made


def installed_faces() -> list[str]:
    """The folders that the faces were installed into."""
    from importlib.resources import files as resources

    return [str(resources(package).joinpath("files")) for package in sorted({p for p, _ in FACE_FILES.values()})]


def other_faces() -> str:
    """The folder of the faces for other scripts. It has each of them once."""
    from importlib.resources import files as resources

    return str(resources(scripts.PACKAGE))
