"""The design as a sentence: its texts, and every phrase that can be changed with its control."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from foldproof.constructions.catalogue import CONSTRUCTIONS
from foldproof.constructions.parameters import Open, Value, values_of
from foldproof.constructions.turning_lid import COUNTS, TurningLidValues
from foldproof.design.workbench.controls import Fields, control_of, key_control, typed_text
from foldproof.design.workbench.paper import sheet_words
from foldproof.lengths import Length, in_words
from foldproof.outlines.catalogue import formula_named
from foldproof.outlines.own import OwnShape
from foldproof.project.keys import CARDSTOCK_KEYS, CONTENT_KEYS, Key
from foldproof.project.problems import field_path
from foldproof.project.records import Part, Project
from foldproof.words.catalogue import ENGLISH, Language

SLOT = re.compile(r"\{([a-z_]+)\}(?:\[([^\]]*)\])?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """What a sentence is made from: the project as the file has it, the same filled in, and the file's own tables."""

    project: Project
    filled: Project
    tables: Mapping[str, Any]


def sentence_of(design: Design, *, language: Language = ENGLISH) -> list[Fields]:
    """Texts and phrases in reading order. A phrase has its path, its words, its state and its control."""
    found: list[Fields] = []
    hosts = [part for part in design.project.parts if not part.on]
    for number, part in enumerate(hosts):
        if number:
            found.append({"text": " "})
        lids = [lid for lid in design.project.parts if lid.on == part.name]
        found += _part(design, part, language=language)
        if number == len(hosts) - 1:
            found += [{"text": language.workbench.join}, *_card(design, language=language)]
        for lid in lids:
            found += [{"text": language.workbench.join}, *_part(design, lid, language=language)]
        if number == 0 and design.project.content is not None:
            found += [{"text": language.workbench.join}, *_content(design, language=language)]
        found.append({"text": language.workbench.end})
    return _joined(found)


def _joined(found: list[Fields]) -> list[Fields]:
    """Texts that follow each other, as one."""
    whole: list[Fields] = []
    for each in found:
        if "text" in each and "phrase" not in each and whole and "phrase" not in whole[-1]:
            whole[-1] = {"text": whole[-1]["text"] + each["text"]}
        else:
            whole.append(each)
    return whole


def _slots(template: str, phrases: Mapping[str, Fields]) -> Iterator[Fields]:
    """The template's texts and, in its slots, the phrases."""
    at = 0
    for slot in SLOT.finditer(template):
        if slot.start() > at:
            yield {"text": template[at : slot.start()]}
        phrase = phrases[slot[1]]
        yield phrase
        if slot[2] and phrase["state"] != "open":
            yield {"text": slot[2]}
        at = slot.end()
    if at < len(template):
        yield {"text": template[at:]}


# --- Parts --------------------------------------------------------------------------------------------------


def _part(design: Design, part: Part, *, language: Language = ENGLISH) -> list[Fields]:
    template = _template(part, language=language)
    return list(
        _slots(
            template, {name: value_phrase(design, part, name, language=language) for name, _ in SLOT.findall(template)}
        )
    )


def _template(part: Part, *, language: Language = ENGLISH) -> str:
    name = part.construction.name
    if isinstance(part.values, TurningLidValues):
        shape = part.values.shape
        formula = None if isinstance(shape, OwnShape) else formula_named(shape)
        counted = formula is not None and any(value.name in COUNTS for value in formula.values)
        return language.workbench.sentences[name if counted else f"{name}/plain"]
    if ("base_width", "base_length") in part.tied_values:
        name = f"{name}/square"
    return language.workbench.sentences.get(name, language.workbench.usual_sentence)


def value_phrase(
    design: Design, part: Part, name: str, *, heading: str = "parts", language: Language = ENGLISH
) -> Fields:
    """A value of a part as a phrase. The family itself is chosen when a design is begun: here it says what it is.

    ``heading`` is where the file has it: what an alternative leaves out is as the lid that it stands in for.
    """
    if name == "construction":
        return {"phrase": "", "text": part.construction.name, "state": "fixed", "control": {}}
    value = next(value for value in values_of(part.construction.parameters) if value.name == name)
    path = field_path(heading, part.name, name)
    typed = typed_at(design, heading, part.name, name)
    current = getattr(part.values, name)
    state = "open" if isinstance(current, Open) else "given" if typed is not None else "usual"
    solved = getattr(_filled(design, part).values, name)
    control = control_of(design.project, path, value, typed, current, language=language)
    if state == "open":
        control |= {"worked_out": typed_text(design.project, None, solved) if isinstance(solved, Length) else ""}
    control["ranged"] = value.kind == "length" and heading == "parts"
    if heading != "parts":
        control |= {"usual": language.workbench.as_the_lid, "may_be_left_out": typed is not None}
    return {
        "phrase": path,
        "text": _words(design.project, part, value, current, language=language),
        "state": state,
        "control": control,
    }


def _words(project: Project, part: Part, value: Value, current: object, *, language: Language = ENGLISH) -> str:
    """A value within the sentence."""
    name = value.name
    if isinstance(current, Open):
        return language.workbench.open_phrases.get(name, language.workbench.open_phrase)
    tied = dict(part.tied_values).get(name)
    if name == "base_width" and tied == "base_length":
        return language.workbench.square
    if name == "inner_wall" and tied == "wall_height":
        return language.workbench.full_walls
    if name == "lobes":
        return _counted(part, current, language=language)
    if name == "lid":
        return language.workbench.lids["none" if current == "none" else "lift-off"]
    if name == "fastener":
        return language.workbench.articles.get(str(current), str(current))
    if isinstance(current, OwnShape):
        return current.name
    if isinstance(current, float):
        return language.workbench.degrees.format(degrees=f"{current:g}")
    return in_words(current, project.ruler) if isinstance(current, Length) else str(current)


def _counted(part: Part, current: object, *, language: Language = ENGLISH) -> str:
    shape = part.values.shape
    formula = None if isinstance(shape, OwnShape) else formula_named(shape)
    counted = next((each for each in formula.values if each.name in COUNTS), None) if formula else None
    if counted is None:
        return str(current)
    number = int(counted.usual) if isinstance(current, str) else int(str(current))
    one, some = language.workbench.counted[counted.name]
    return one if number == 1 else some.format(count=number)


def _filled(design: Design, part: Part) -> Part:
    parts = (*design.filled.parts, *(each.part for each in design.filled.alternatives))
    return next(other for other in parts if other.name == part.name)


def typed_at(design: Design, *keys: str) -> object:
    """What the file says under some keys; the number of a row of a list, from 1, is a key too. None for nothing."""
    found: object = design.tables
    for key in keys:
        if isinstance(found, list) and key.isdigit() and 0 < int(key) <= len(found):
            found = found[int(key) - 1]
        elif isinstance(found, Mapping):
            found = found.get(key)
        else:
            return None
    return found


# --- Card and content ---------------------------------------------------------------------------------------


def _card(design: Design, *, language: Language = ENGLISH) -> list[Fields]:
    card = design.project.cardstock
    said = {
        "sheet": language.workbench.sheet.format(size=sheet_words(design.project, card.sheet, language=language)),
        "name": card.name,
        "weight": card.weight.text if card.weight else "",
    }
    template = language.workbench.card if card.weight else language.workbench.card_plain
    if card.weight and card.name == next(key for key in CARDSTOCK_KEYS if key.name == "name").usual[0]:
        template = language.workbench.card_nameless
    phrases = {
        name: key_phrase(design, "cardstock", CARDSTOCK_KEYS, name, text, language=language)
        for name, text in said.items()
    }
    return list(_slots(template, phrases))


def _content(design: Design, *, language: Language = ENGLISH) -> list[Fields]:
    content = design.project.content
    assert content is not None
    ruler = design.project.ruler
    said = {name: in_words(getattr(content, name), ruler) for name in ("length", "width", "height")}
    phrases = {
        name: key_phrase(design, "content", CONTENT_KEYS, name, text, language=language) for name, text in said.items()
    }
    return list(_slots(language.workbench.content, phrases))


def key_phrase(
    design: Design, table: str, keys: tuple[Key, ...], name: str, said: str, *, language: Language = ENGLISH
) -> Fields:
    """A key of the project itself as a phrase; ``table`` is "" for the keys at the top of the file."""
    key = next(key for key in keys if key.name == name)
    path = f"{table}.{name}" if table else name
    typed = typed_at(design, *path.split("."))
    control = key_control(design.project, path, key, typed, language=language)
    return {"phrase": path, "text": said, "state": "usual" if typed is None else "given", "control": control}


def families() -> list[Fields]:
    """Every construction a design can begin with: its name, what it is, and whether it stands on another part."""
    return [
        {"name": each.name, "summary": each.summary, "on": any(v.kind == "part" for v in values_of(each.parameters))}
        for each in CONSTRUCTIONS
    ]
