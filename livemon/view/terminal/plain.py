"""The same text for terminals that only know ASCII; nothing is lost but beauty."""

from typing import Final

_PLAIN: Final = str.maketrans(
    {
        "–": "-", "−": "-", "·": "|", "…": "~", "₂": "2", "′": "'", "→": ">", "←": "<",
        "\N{NO-BREAK SPACE}": " ",
        "▁": "_", "▂": "_", "▃": ".", "▄": "-", "▅": "=", "▆": "+", "▇": "*", "█": "#",
        "╱": "/", "╲": "\\", "─": "-", "▲": "^", "△": "^", "○": "o",
    }
)  # fmt: skip


def plain(text: str) -> str:
    """Return `text` in ASCII; letters that ASCII lacks become question marks."""
    return text.translate(_PLAIN).encode("ascii", "replace").decode("ascii")
