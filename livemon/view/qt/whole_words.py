"""What was cut short on a part of the page can be read whole: in its tooltip."""

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from livemon.view.qt.scribe import Written


def tell_whole(part: QWidget, written: Sequence[Written], always: str = "") -> None:
    """Let the tooltip of `part` say what was cut short in full, after what it `always` says."""
    cut = (line.text for line in written if line.shown != line.text)
    words = "\n".join(dict.fromkeys(one for one in (always, *cut) if one))
    if words != part.toolTip():
        part.setToolTip(words)
