"""What may lie over a page: the list of keys, the table of values, the line to type in."""

from typing import Final

from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QWidget

from livemon.view.keys import Key
from livemon.view.qt.entry_line import EntryLine
from livemon.view.qt.help_panel import HelpPanel
from livemon.view.qt.value_table import ValueTable

_TABLE_SHARE: Final = 0.34
_FOOT_PX: Final = 24


class Overlays:
    """Three widgets that come and go with a key each.

    Args:
        over: the widget that they lie over.
    """

    def __init__(self, keys: tuple[Key, ...], over: QWidget) -> None:
        self.values = ValueTable(over)
        self._help = HelpPanel(keys, over)
        self.entry = EntryLine(over)
        for each in (self.values, self._help, self.entry):
            each.hide()

    def toggle_values(self) -> None:
        """Show or hide the table of values."""
        _toggle(self.values)

    def toggle_help(self) -> None:
        """Show or hide the list of keys."""
        _toggle(self._help)

    def close_topmost(self) -> bool:
        """Close what lies on top; return False when nothing did."""
        for each in (self.entry, self._help, self.values):
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
        line = self.entry.sizeHint().height()
        self.entry.setGeometry(width // 6, height - line - _FOOT_PX, width * 2 // 3, line)
        return QRect(0, 0, width - table, height)


def _toggle(widget: QWidget) -> None:
    widget.setVisible(widget.isHidden())
    if not widget.isHidden():
        widget.raise_()
        widget.setFocus()
