"""Texts by a code, as the usual value of a field."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from types import MappingProxyType
from typing import Any


def table(texts: Mapping[str, Any]) -> Any:
    """A field whose usual value is these texts, which nobody can change."""
    return field(default_factory=lambda: MappingProxyType(texts))
