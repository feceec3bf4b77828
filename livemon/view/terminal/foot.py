"""The program's own words at the foot of the terminal, wrapped and never crowding out the rest."""

from textwrap import wrap
from typing import Final

from livemon.view.terminal.cells import fitted

#: The athlete's lines have the rest; at 24 lines it leaves 18.
_SHARE: Final = 4


def footed(notices: tuple[str, ...], width: int, height: int) -> tuple[str, ...]:
    """Return the lines that say `notices`; where room is short, the first of each, then the last.

    The last notice says how the recording stands, so it is the last to give way.
    """
    room = height // _SHARE
    each = [wrap(notice, max(width, 1)) for notice in notices if notice]
    while sum(map(len, each)) > room and any(len(lines) > 1 for lines in each):
        max(each, key=len).pop()
    lines = [line for one in each for line in one]
    return tuple(fitted(line, width) for line in lines[max(len(lines) - room, 0) :])
