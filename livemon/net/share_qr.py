"""An invitation as a QR code: a matrix for the window, lines for a terminal."""

from typing import Final

from livemon.errors import UsageError

#: ISO/IEC 18004: four light modules all around.
_QUIET: Final = 4
#: Black on white whatever the terminal's colours are: not every reader takes one that is inverted.
_BLACK_ON_WHITE: Final = "\x1b[30;47m"
_RESET: Final = "\x1b[0m"
#: Two modules above each other, (upper, lower) dark; a character cell is twice as high as wide.
_CELLS: Final = {
    (False, False): " ",
    (True, False): "▀",
    (False, True): "▄",
    (True, True): "█",
}

Matrix = tuple[tuple[bool, ...], ...]


def qr_matrix(text: str) -> Matrix:
    """Return rows of modules, True where dark, with the quiet zone around them.

    Raises:
        UsageError: the library that draws it is missing.
    """
    try:
        import segno
    except ImportError as error:
        raise UsageError("no QR code without: pip install 'livemon[share]'") from error
    # Level M: 15 % may be covered by a reflection. Never micro: not every reader takes it.
    code = segno.make(text, error="m", micro=False)
    return tuple(tuple(map(bool, row)) for row in code.matrix_iter(border=_QUIET))


def terminal_lines(matrix: Matrix) -> tuple[str, ...]:
    """Return the lines that show it in a terminal, two rows in each."""
    blank = (False,) * len(matrix[0])
    lines = []
    for top in range(0, len(matrix), 2):
        below = matrix[top + 1] if top + 1 < len(matrix) else blank
        cells = "".join(_CELLS[pair] for pair in zip(matrix[top], below, strict=True))
        lines.append(f"{_BLACK_ON_WHITE}{cells}{_RESET}")
    return tuple(lines)
