"""Records of words as one flat list of texts by key, and back: what a translator works on.

A key is the way to a text: names of fields, keys of tables and places in a row, with dots between them.
"""

from __future__ import annotations

import dataclasses
import string
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

CODE = MappingProxyType({"code": True})  # marks a field that holds a code and no text


def texts_of(record: Any, way: str = "") -> dict[str, str]:
    """Every text of a record by its key."""
    return dict(_walk(record, way))


def with_texts(record: Any, texts: Mapping[str, str], way: str = "") -> Any:
    """The record with these texts in place of its own; what has none keeps its own.

    A table of texts takes further keys, such as one more form of a plural.
    """
    if isinstance(record, str):
        return texts.get(way, record)
    if isinstance(record, tuple):
        return tuple(with_texts(each, texts, _on(way, str(number))) for number, each in enumerate(record, start=1))
    if isinstance(record, Mapping):
        changed = {key: with_texts(each, texts, _on(way, key)) for key, each in record.items()}
        if all(isinstance(each, str) for each in record.values()):
            begin = _on(way, "")
            changed |= {
                key.removeprefix(begin): text
                for key, text in texts.items()
                if key.startswith(begin) and key.removeprefix(begin) not in changed
            }
        return MappingProxyType(changed)
    changes = {
        field.name: with_texts(getattr(record, field.name), texts, _on(way, field.name)) for field in _fields(record)
    }
    return dataclasses.replace(record, **changes)


def tables_of(record: Any, way: str = "") -> frozenset[str]:
    """The keys of the tables that hold nothing but texts: a language may add to those."""
    if isinstance(record, str):
        return frozenset()
    if isinstance(record, tuple):
        return frozenset().union(*(tables_of(each, _on(way, str(n))) for n, each in enumerate(record, start=1)))
    if isinstance(record, Mapping):
        inner = frozenset().union(*(tables_of(each, _on(way, key)) for key, each in record.items()))
        return inner | {way} if all(isinstance(each, str) for each in record.values()) else inner
    return frozenset().union(*(tables_of(getattr(record, f.name), _on(way, f.name)) for f in _fields(record)))


def named_values(text: str) -> frozenset[str]:
    """The values that a text names in brackets. ValueError where the brackets do not match."""
    return frozenset(name for _, name, _, _ in string.Formatter().parse(text) if name is not None)


def _walk(record: Any, way: str) -> Iterator[tuple[str, str]]:
    if isinstance(record, str):
        yield way, record
    elif isinstance(record, tuple):
        for number, each in enumerate(record, start=1):
            yield from _walk(each, _on(way, str(number)))
    elif isinstance(record, Mapping):
        for key, each in record.items():
            yield from _walk(each, _on(way, key))
    else:
        for field in _fields(record):
            yield from _walk(getattr(record, field.name), _on(way, field.name))


def _fields(record: Any) -> list[dataclasses.Field[Any]]:
    return [field for field in dataclasses.fields(record) if "code" not in field.metadata]


def _on(way: str, name: str) -> str:
    return f"{way}.{name}" if way else name
