"""Lines into one CSV text, many at a time."""

from typing import Final, TextIO

from livemon.exchange.csv_dialect import Dialect

#: RFC 4180, 2.1.
_LINE_END: Final = "\r\n"

#: Some 400 kB: large enough to cost nothing for each line.
_MOST_WAITING: Final = 4096

#: Spreadsheets take UTF-8 for an older encoding without it; other readers stumble over it. Who
#: asks for a decimal comma has a spreadsheet.
_BYTE_ORDER_MARK: Final = "\ufeff"


class CsvText:
    """Gathers lines and writes them in bulk."""

    __slots__ = ("_file", "_waiting")

    def __init__(self, file: TextIO, dialect: Dialect) -> None:
        self._file = file
        self._waiting: list[str] = []
        if dialect.decimal == ",":
            file.write(_BYTE_ORDER_MARK)

    def add(self, line: str) -> None:
        """Take one line, without its end."""
        self._waiting.append(line)
        if len(self._waiting) >= _MOST_WAITING:
            self._flush()

    def close(self) -> None:
        """Write what waits, and close the file."""
        self._flush()
        self._file.close()

    def _flush(self) -> None:
        if self._waiting:
            self._file.write(_LINE_END.join(self._waiting) + _LINE_END)
            self._waiting.clear()
