"""An analysis as plain lists and dictionaries, ready for JSON.

Frozen dataclasses become dictionaries, Enums their words. What is not known stays null beside its
reason; NaN and infinity are refused, because JSON has neither.
"""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from math import isfinite
from typing import Any

from livemon.analyse.correlated import CorrelatedLine

Plain = dict[str, Any] | list[Any] | str | float | int | bool | None


def plain(value: object) -> Plain:
    """Return `value` in JSON's own types.

    Raises:
        ValueError: a number is NaN or infinite.
        TypeError: a type that has no plain form.
    """
    match value:
        case None | bool() | int() | str():
            return value
        case float():
            if not isfinite(value):
                raise ValueError(f"{value} has no place in JSON")
            return float(value)
        case Enum():
            return plain(value.value)
        case Mapping():
            return {str(key): plain(item) for key, item in value.items()}
        case tuple() | list():
            return [plain(item) for item in value]
        case frozenset():
            return [plain(item) for item in sorted(value)]
    if not is_dataclass(value) or isinstance(value, type):
        raise TypeError(f"{type(value).__name__} has no plain form")
    # A fitted line is an intermediate step, not for readers.
    parts = {field.name: getattr(value, field.name) for field in fields(value)}
    return {
        name: plain(part) for name, part in parts.items() if not isinstance(part, CorrelatedLine)
    }
