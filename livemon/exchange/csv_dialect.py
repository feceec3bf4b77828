"""How a cell becomes text in a CSV file (RFC 4180), safe to open in a spreadsheet.

A text that a spreadsheet would take for a formula gets an apostrophe in front, as OWASP advises
(owasp.org, "CSV Injection"). Numbers are written from numbers, never from text, so they stay
numbers: -3.5 is -3.5.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from livemon.errors import UsageError
from livemon.exchange.table import Cell, Kind

#: First characters that start a formula somewhere: OWASP's list, with the full-width ones that
#: some locales take for the same.
#: Apostrophes in front are kept count of, so that `original` gives back what was there.
_STARTS_FORMULA: Final = re.compile("'*[=+\\-@\t\r\n＝＋－＠]")

_SEPARATORS: Final = (",", ";", "\t")


@dataclass(frozen=True, slots=True)
class Dialect:
    """Decimal sign and separator of the file."""

    decimal: str = "."
    separator: str = ","

    def __post_init__(self) -> None:
        """Check that the two can be told apart."""
        if self.decimal not in {".", ","}:
            raise UsageError(f"decimal sign: expected . or , and found {self.decimal!r}.")
        if self.separator not in _SEPARATORS:
            raise UsageError(
                f"separator: expected a comma, a semicolon or a tab, found {self.separator!r}."
            )
        if self.decimal == self.separator:
            raise UsageError(
                "decimal comma and separating comma can't be told apart; take --separator ';'."
            )


def harmless(text: str) -> str:
    """Return `text` so that no spreadsheet runs it."""
    return f"'{text}" if _STARTS_FORMULA.match(text) else text


def original(text: str) -> str:
    """Return what `harmless` was given."""
    return text[1:] if text.startswith("'") and _STARTS_FORMULA.match(text[1:]) else text


def cell_writer(kind: Kind, dialect: Dialect) -> Callable[[Cell], str]:
    """Return what writes the cells of a column of `kind`, which is no moment."""
    match kind:
        case Kind.NUMBER | Kind.WHOLE:
            return _number if dialect.decimal == "." else _number_with_comma
        case Kind.FLAG:
            return _flag
    return text_writer(dialect)


def text_writer(dialect: Dialect) -> Callable[[Cell], str]:
    """Return what writes texts: harmless, and quoted where they must be."""
    must_quote = re.compile(f'[{dialect.separator}"\r\n]')

    @lru_cache(maxsize=1024)  # ids, sites and units come again and again
    def write(value: Cell) -> str:
        if value is None:
            return ""
        text = harmless(str(value))
        if must_quote.search(text):
            return '"' + text.replace('"', '""') + '"'
        return text

    return write


def _number(value: Cell) -> str:
    return "" if value is None else str(value)


def _number_with_comma(value: Cell) -> str:
    return "" if value is None else str(value).replace(".", ",")


def _flag(value: Cell) -> str:
    return "" if value is None else "true" if value else "false"
