"""Make marks from what a person typed, correct them, and take them back.

Nothing that was marked is ever changed: a correction is another mark that replaces the first, and
a withdrawal is a correction of kind "withdrawn". Which ones hold is decided in corrections.py.
"""

import re
from collections.abc import Mapping
from math import isfinite
from typing import Final

from livemon.errors import UsageError
from livemon.events import Mark, MarkValue
from livemon.monitor.mark_fields import (
    ABSOLUTE_MAXIMUM,
    FIELDS,
    LOAD_UNITS,
    Field,
    MarkKind,
    NumberField,
)

#: What was said, in the order of the table, units in the keys.
Details = tuple[tuple[str, MarkValue], ...]

#: Digits with a decimal point or comma; a separator of thousands would be ambiguous.
_NUMBER: Final = re.compile(r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)")

#: No measure of a person comes near; beyond it, also NaN, is damage.
_LARGEST: Final = 1e12

#: How Borg's scale prints its last point, and how it is typed.
_MAXIMUM_SIGNS: Final = ("•", "*", "max", ABSOLUTE_MAXIMUM)


def checked_details(kind: MarkKind, entered: Mapping[str, MarkValue]) -> Details:
    """Check what was entered for a mark of `kind`; numbers may come as typed text.

    Raises:
        UsageError: something is missing, not a number, or out of range; says unit and limits.
    """
    fields = FIELDS[kind]
    known = [field.key for field in fields]
    for key in entered:
        if key not in known:
            takes = ", ".join(known) if known else "nothing"
            raise UsageError(f"{kind.value}: unknown value {key!r}; it takes {takes}")
    values = [(field.key, _checked(field, entered.get(field.key))) for field in fields]
    details = tuple((key, value) for key, value in values if value is not None)
    _check_together(kind, dict(details))
    return details


def read_number(field: NumberField, entered: str | float) -> float | int | str:
    """Return the number that was typed into `field`, decimal comma or point, unit or none.

    Raises:
        UsageError: it is no number, or out of range.
    """
    value = _typed(field, entered.strip()) if isinstance(entered, str) else entered
    if isinstance(value, str):
        return value
    if not isfinite(value) or not field.low <= value <= field.high:
        raise UsageError(
            f"{field.label}: expected {_limits(field)}, got {_with_unit(field, value)}"
        )
    if not field.whole:
        return float(value)
    if value != int(value):
        raise UsageError(f"{field.label}: expected a whole number, got {_with_unit(field, value)}")
    return int(value)


def correction(
    original: Mark, *, mark: str, t_ns: int, details: Details, at_ns: int | None = None
) -> Mark:
    """Return the mark that gives `original` other details, and another time if `at_ns` is given."""
    when_ns = happened_ns(original) if at_ns is None else at_ns
    return Mark(t_ns, mark, original.athlete, original.kind, details, when_ns, original.mark)


def withdrawal(original: Mark, *, mark: str, t_ns: int) -> Mark:
    """Return the mark that takes `original` back."""
    when_ns = happened_ns(original)
    return Mark(t_ns, mark, original.athlete, MarkKind.WITHDRAWN.value, (), when_ns, original.mark)


def happened_ns(mark: Mark) -> int:
    """Return when it happened, which may be long before it was entered."""
    return mark.t_ns if mark.at_ns is None else mark.at_ns


def number_in(mark: Mark, key: str) -> float | None:
    """Return a number among the details; None if there is none, as in other people's marks."""
    for name, value in mark.details:
        if name == key and isinstance(value, (int, float)) and abs(value) <= _LARGEST:
            return value
    return None


def text_in(mark: Mark, key: str) -> str:
    """Return a text among the details; empty if there is none."""
    for name, value in mark.details:
        if name == key and isinstance(value, str):
            return value
    return ""


def _checked(field: Field, entered: MarkValue) -> MarkValue:
    if entered is None or (isinstance(entered, str) and not entered.strip()):
        if field.required:
            raise UsageError(f"{field.label}: missing; {_expected(field)}")
        return None
    if isinstance(field, NumberField):
        return read_number(field, entered)
    text = " ".join(str(entered).split())
    if len(text) > field.longest:
        raise UsageError(f"{field.label}: at most {field.longest} characters, got {len(text)}")
    if field.choices and text not in field.choices:
        raise UsageError(f"{field.label}: {_expected(field)}, got {text!r}")
    return text


def _typed(field: NumberField, text: str) -> float | str:
    if field.words and text.lower() in _MAXIMUM_SIGNS:
        return field.words[0]
    digits = text.removesuffix(field.unit).strip() if field.unit else text
    if not _NUMBER.fullmatch(digits):
        raise UsageError(f"{field.label}: {text!r} is not a number; expected {_limits(field)}")
    return float(digits.replace(",", "."))


def _check_together(kind: MarkKind, details: Mapping[str, MarkValue]) -> None:
    low, high = details.get("low_bpm"), details.get("high_bpm")
    if (low is None) != (high is None):
        raise UsageError("heart-rate band: give both edges, or neither for no band")
    if isinstance(low, int) and isinstance(high, int) and low >= high:
        raise UsageError(
            f"heart-rate band: {low} to {high} bpm is none: the upper edge has to be higher"
        )
    if kind is MarkKind.LOAD:
        given = [key for key, _ in LOAD_UNITS if key in details]
        if len(given) != 1:
            units = ", ".join(unit for _, unit in LOAD_UNITS)
            raise UsageError(f"load: give one number, in one of {units}")


def _expected(field: Field) -> str:
    if isinstance(field, NumberField):
        return f"expected {_limits(field)}"
    if field.choices:
        return f"expected one of {', '.join(field.choices)}"
    return "expected text"


def _limits(field: NumberField) -> str:
    return _spaced(f"{field.low:g} to {field.high:g}", field.unit)


def _with_unit(field: NumberField, value: float) -> str:
    return _spaced(f"{value:g}", field.unit)


def _spaced(number: str, unit: str) -> str:
    return f"{number} {unit}".rstrip()
