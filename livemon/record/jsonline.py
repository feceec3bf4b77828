"""One JSON object on one line, strictly: what both kinds of line in a recording are made of.

Lines are pure ASCII and without NaN, so a byte outside ASCII is damage and not a letter, and the
same value always gives the same bytes. This file knows JSON and nothing of events.
"""

import json
from collections.abc import Mapping
from math import isfinite
from typing import Any, Final, NoReturn

from livemon.errors import RecordingError

#: Object as it came out of a line.
Record = dict[str, Any]

#: Integers beyond 64 bits are damage; nanoseconds reach 292 years with these.
_LARGEST_INT: Final = 2**63 - 1


def dump(record: Mapping[str, object]) -> str:
    """Return `record` as one line without its newline.

    Raises:
        RecordingError: a number in it is NaN or infinite; "not known" is written as None.
    """
    try:
        return json.dumps(record, allow_nan=False, separators=(",", ":"))
    except ValueError as error:
        raise problem("", "a number is not finite; what is not known has to be None") from error


def load(line: bytes | str) -> Record:
    """Return the object on `line`.

    Raises:
        RecordingError: this is not one JSON object, or holds NaN.
    """
    try:
        text = line if isinstance(line, str) else line.decode()
        text = text.strip(" \t\r\n")
        record, end = _raw_decode(text)
    except RecordingError:
        raise
    except UnicodeDecodeError as error:
        raise problem("", f"byte {error.start + 1} is not text") from error
    except json.JSONDecodeError as error:
        raise problem("", f"not JSON at character {error.pos + 1}: {error.msg}") from error
    except (ValueError, RecursionError) as error:  # a number or a nesting beyond all measure
        raise problem("", "not JSON that a recording could hold") from error
    if end != len(text):
        raise problem("", f"something follows the object, at character {end + 1}")
    if type(record) is not dict:
        raise problem("", f"expected an object, found {brief(record)}")
    return record


def problem(key: str, what: str) -> RecordingError:
    """Return an error about `key` of a line; whoever knows the file says where it stands."""
    return RecordingError("line", key, what)


def text(record: Record, key: str) -> str:
    """Return the text at `key`, which has to be there and not empty."""
    value = record.get(key)
    if type(value) is not str or not value:
        raise problem(key, f"expected text, found {_found(record, key)}")
    return value


def free_text(record: Record, key: str) -> str:
    """Return the text at `key`; it may be empty or missing."""
    value = record.get(key, "")
    if type(value) is not str:
        raise problem(key, f"expected text, found {brief(value)}")
    return value


def text_or_none(record: Record, key: str) -> str | None:
    """Return the text at `key`, or None for null or nothing."""
    return None if record.get(key) is None else text(record, key)


def free_text_or_none(record: Record, key: str) -> str | None:
    """Return the text at `key`, which may be empty; None for null or nothing."""
    return None if record.get(key) is None else free_text(record, key)


def whole(record: Record, key: str, low: int = -_LARGEST_INT) -> int:
    """Return the integer at `key`."""
    value = record.get(key)
    if type(value) is not int or not low <= value <= _LARGEST_INT:
        least = f" from {low}" if low > -_LARGEST_INT else ""
        raise problem(key, f"expected an integer{least}, found {_found(record, key)}")
    return value


def whole_or_none(record: Record, key: str) -> int | None:
    """Return the integer at `key`, or None for null or nothing."""
    return None if record.get(key) is None else whole(record, key)


def number(record: Record, key: str) -> float:
    """Return the finite number at `key` as float."""
    value = record.get(key)
    if type(value) is int and abs(value) <= _LARGEST_INT:
        return float(value)
    if type(value) is not float or not isfinite(value):
        raise problem(key, f"expected a number, found {_found(record, key)}")
    return value


def items(record: Record, key: str) -> list[Any]:
    """Return the list at `key`; nothing there is an empty one."""
    value = record.get(key, [])
    if type(value) is not list:
        raise problem(key, f"expected a list, found {brief(value)}")
    return value


def table(record: Record, key: str) -> Record:
    """Return the object at `key`; nothing there is an empty one."""
    value = record.get(key, {})
    if type(value) is not dict:
        raise problem(key, f"expected an object, found {brief(value)}")
    return value


def brief(value: object) -> str:
    """Return `value` for a message, however large it is."""
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)}"
    if isinstance(value, dict):
        return f"an object of {len(value)}"
    shown = "null" if value is None else repr(value)
    return shown if len(shown) <= 40 else f"{shown[:37]}..."


def _found(record: Record, key: str) -> str:
    return brief(record[key]) if key in record else "nothing"


def _refuse(constant: str) -> NoReturn:
    raise problem("", f"{constant} is no number; what is not known is null")


_raw_decode: Final = json.JSONDecoder(parse_constant=_refuse).raw_decode
