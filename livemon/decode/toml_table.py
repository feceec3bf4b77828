"""Read a TOML table key by key; every error says file, key, expected and found."""

import tomllib
from collections.abc import Callable, Iterable, Mapping
from difflib import get_close_matches
from math import isfinite
from types import MappingProxyType
from typing import Any, Final

from livemon.errors import LivemonError

#: Makes the error to raise, of file, key and problem.
Complain = Callable[[str, str, str], LivemonError]

_LONGEST_SHOWN: Final = 60  # so that a message stays one line

_NO_REASONS: Final[Mapping[str, str]] = MappingProxyType({})

_KINDS: Final = {
    str: "text",
    int: "a whole number",
    float: "a number",
    bool: "true or false",
    list: "a list",
    dict: "a table",
}


def parse_toml(text: str, where: str, complain: Complain) -> "TomlTable":
    """Read a whole file; `where` names it in messages."""
    try:
        return TomlTable(tomllib.loads(text), where, "", complain)
    except ValueError as error:  # a TOMLDecodeError, or a number of thousands of digits
        raise complain(where, "", f"not TOML: {error}") from error
    except RecursionError as error:
        raise complain(where, "", "not TOML: nested too deep") from error


class TomlTable:
    """A table that knows its place, and notices keys that nobody asked for."""

    __slots__ = ("_complain", "_known", "_left", "_prefix", "_where")

    def __init__(self, table: dict[str, Any], where: str, prefix: str, complain: Complain) -> None:
        self._left, self._where, self._prefix = dict(table), where, prefix
        self._complain = complain
        self._known: list[str] = []

    def error(self, key: str, problem: str) -> LivemonError:
        """Make an error about `key`; about the table itself where `key` is empty."""
        return self._complain(self._where, (self._prefix + key).removesuffix("."), problem)

    def has(self, key: str) -> bool:
        """Say whether the key is there."""
        self._known.append(key)
        return key in self._left

    def take(self, key: str, *kinds: type) -> Any:  # noqa: ANN401 - of one of `kinds`
        """Return a value that must be there and of one of `kinds`."""
        self._known.append(key)
        expected = " or ".join(_KINDS[kind] for kind in kinds)
        if key not in self._left:
            raise self.error(key, f"missing; expected {expected}")
        value = self._left.pop(key)
        if type(value) not in kinds:  # not isinstance: to Python, True is a whole number
            raise self.error(key, f"expected {expected}, found {shown(value)}")
        return value

    def text(self, key: str, longest: int) -> str:
        """Return text of 1 to `longest` characters, on one line."""
        value: str = self.take(key, str)
        if not (0 < len(value) <= longest and value.isprintable()):
            raise self.error(
                key, f"expected 1 to {longest} printable characters, found {shown(value)}"
            )
        return value

    def choice(self, key: str, choices: Iterable[str]) -> str:
        """Return text that is one of `choices`."""
        value: str = self.take(key, str)
        known = list(choices)
        if value not in known:
            near = _hint(value, known)
            raise self.error(key, f"expected one of {', '.join(known)}, found {shown(value)}{near}")
        return value

    def whole(self, key: str, low: int, high: int) -> int:
        """Return a whole number from `low` to `high`."""
        return self.checked_whole(key, self.take(key, int), low, high)

    def checked_whole(self, key: str, value: object, low: int, high: int) -> int:
        """Return `value`, found under `key`, if it is a whole number from `low` to `high`."""
        if type(value) is not int or not low <= value <= high:
            raise self.error(
                key, f"expected a whole number from {low} to {high}, found {shown(value)}"
            )
        return value

    def checked_number(self, key: str, value: object) -> float:
        """Return `value`, found under `key`, if it is a number and finite."""
        if not (type(value) is int and abs(value) < 1 << 1023) and not (
            type(value) is float and isfinite(value)
        ):
            raise self.error(key, f"expected a number, found {shown(value)}")
        return float(value)

    def pair(self, key: str) -> tuple[object, object]:
        """Return a list of two."""
        value: list[object] = self.take(key, list)
        if len(value) != 2:
            raise self.error(key, f"expected a list of two, found {shown(value)}")
        return value[0], value[1]

    def flag(self, key: str, default: bool) -> bool:
        """Return true or false."""
        return bool(self.take(key, bool)) if self.has(key) else default

    def table(self, key: str) -> "TomlTable":
        """Return a table inside this one."""
        value = self.take(key, dict)
        return TomlTable(value, self._where, f"{self._prefix}{key}.", self._complain)

    def rows(self, key: str, most: int) -> "tuple[TomlTable, ...]":
        """Return the tables of a `[[key]]`; none if there are none."""
        if not self.has(key):
            return ()
        rows = self.take(key, list)
        if len(rows) > most:
            raise self.error(key, f"expected at most {most}, found {len(rows)}")
        for index, row in enumerate(rows):
            if type(row) is not dict:
                raise self.error(f"{key}[{index}]", f"expected a table, found {shown(row)}")
        return tuple(
            TomlTable(row, self._where, f"{self._prefix}{key}[{index}].", self._complain)
            for index, row in enumerate(rows)
        )

    def end(self, reasons: Mapping[str, str] = _NO_REASONS) -> None:
        """Raise if a key is left over; `reasons` says of some keys why they can't stand here."""
        for key in self._left:
            problem = reasons.get(key) or f"unknown key{_hint(key, self._known)}"
            raise self.error(key, problem)


def shown(value: object) -> str:
    """Return a value as a short text for messages."""
    try:
        text = repr(value)
    except ValueError:  # Python writes no number of thousands of digits
        return "a far larger number"
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 1]}…"


def _hint(word: str, known: list[str]) -> str:
    near = get_close_matches(word, known, n=1)
    return f"; did you mean {near[0]!r}?" if near else ""
