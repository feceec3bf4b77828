"""What may lie over a page: the list of keys, the table of values, the line for a note."""

from typing import Final

from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QLineEdit, QWidget

from livemon.view.keys import Key
from livemon.view.qt.help_panel import HelpPanel
from livemon.view.qt.value_table import ValueTable

_TABLE_SHARE: Final = 0.34
_NOTE_PX: Final = 40


class Overlays:
    """Three widgets that come and go with a key each.

    Args:
        over: the widget that they lie over.
    """

    def __init__(self, keys: tuple[Key, ...], over: QWidget) -> None:
        self.values = ValueTable(over)
        self._help = HelpPanel(keys, over)
        self._note = QLineEdit(over)
        self._note.setPlaceholderText("Note for this moment; Enter keeps it, Esc drops it")
        self._note.setAccessibleName("Note")
        for each in (self.values, self._help, self._note):
            each.hide()

    def toggle_values(self) -> None:
        """Show or hide the table of values."""
        _toggle(self.values)

    def toggle_help(self) -> None:
        """Show or hide the list of keys."""
        _toggle(self._help)

    def ask_for_note(self) -> None:
        """Open an empty line."""
        self._note.clear()
        self._note.show()
        self._note.raise_()
        self._note.setFocus()

    def take_note(self) -> str | None:
        """Close the line and return what stands in it; None when it wasn't open."""
        if self._note.isHidden():
            return None
        self._note.hide()
        return self._note.text().strip()

    def close_topmost(self) -> bool:
        """Close what lies on top; return False when nothing did."""
        for each in (self._note, self._help, self.values):
            if not each.isHidden():
                each.hide()
                return True
        return False

    def place(self, size: QSize) -> QRect:
        """Place everything on an area of this size; return what is left for the page."""
        width, height = size.width(), size.height()
        table = 0 if self.values.isHidden() else int(width * _TABLE_SHARE)
        self.values.setGeometry(width - table, 0, table, height)
        panel = self._help.sizeHint().boundedTo(size)
        left, top = (width - panel.width()) // 2, (height - panel.height()) // 2
        self._help.setGeometry(QRect(left, top, panel.width(), panel.height()))
        self._note.setGeometry(width // 5, height - 2 * _NOTE_PX, width * 3 // 5, _NOTE_PX)
        return QRect(0, 0, width - table, height)


def _toggle(widget: QWidget) -> None:
    widget.setVisible(widget.isHidden())
    if not widget.isHidden():
        widget.raise_()
        widget.setFocus()
