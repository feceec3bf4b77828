"""What may lie over a page: keys, table of values, settings, and the line to type in."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QWidget

from livemon.view.keys import Key
from livemon.view.qt.entry_line import EntryLine
from livemon.view.qt.help_panel import HelpPanel
from livemon.view.qt.look import Look
from livemon.view.qt.panel_style import dress_buttons
from livemon.view.qt.scrolled import Scrolled
from livemon.view.qt.settings_panel import SettingsPanel
from livemon.view.qt.value_table import ValueTable
from livemon.view.settings import ViewSettings

_TABLE_SHARE: Final = 0.34
_FOOT_PX: Final = 24


class Overlays:
    """Widgets that come and go with a key each.

    Args:
        over: the widget that they lie over; gets the focus back.
        moved: called when the page has to be placed anew.
    """

    def __init__(
        self,
        keys: tuple[Key, ...],
        settings: ViewSettings,
        look: Look,
        over: QWidget,
        *,
        moved: Callable[[], None],
    ) -> None:
        self._over, self._moved = over, moved
        self._look = look
        self.values = ValueTable(over)
        self.settings = SettingsPanel(settings, over)
        self.entry = EntryLine(over)
        self._help = HelpPanel(keys, over)
        self._panels: dict[QWidget, Scrolled] = {}
        for panel in (self._help, self.settings):
            self.add(panel)
        for each in (self.values, self.entry):
            each.hide()

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        for panel in self._panels:
            dress_buttons(panel, look.theme)

    def add(self, panel: QWidget) -> None:
        """Take one more panel, to be shown in the middle."""
        dress_buttons(panel, self._look.theme)
        self._panels[panel] = Scrolled(panel, self._over)
        self._panels[panel].hide()

    def toggle(self, panel: QWidget) -> None:
        """Show or hide a panel that was added."""
        self._toggle(self._panels[panel])

    @property
    def form_open(self) -> bool:
        """Whether something lies over the page whose own keys go first."""
        forms = (area for panel, area in self._panels.items() if panel is not self._help)
        return any(not area.isHidden() for area in forms)

    def toggle_values(self) -> None:
        """Show or hide the table of values."""
        self._toggle(self.values)

    def toggle_help(self) -> None:
        """Show or hide the list of keys."""
        self.toggle(self._help)

    def toggle_settings(self) -> None:
        """Show or hide the settings."""
        self.toggle(self.settings)

    def ask(self) -> None:
        """Open the line for a note or a value."""
        self.entry.ask()
        self._moved()

    def close_topmost(self) -> bool:
        """Close what lies on top; return False when nothing did."""
        for each in (self.entry, *self._panels.values(), self.values):
            if not each.isHidden():
                self.close(each)
                return True
        return False

    def close(self, widget: QWidget) -> None:
        """Hide it and give the focus back to the page."""
        widget.hide()
        self._over.setFocus()
        self._moved()

    def place(self, size: QSize) -> QRect:
        """Place everything on an area of this size; return what is left for the page."""
        width, height = size.width(), size.height()
        table = 0 if self.values.isHidden() else int(width * _TABLE_SHARE)
        self.values.setGeometry(width - table, 0, table, height)
        for area in self._panels.values():
            fitting = area.fitting(size)
            left, top = (width - fitting.width()) // 2, (height - fitting.height()) // 2
            area.setGeometry(QRect(left, top, fitting.width(), fitting.height()))
        line = self.entry.sizeHint().height()
        self.entry.setGeometry(width // 6, height - line - _FOOT_PX, width * 2 // 3, line)
        return QRect(0, 0, width - table, height)

    def _toggle(self, widget: QWidget) -> None:
        if not widget.isHidden():
            self.close(widget)
            return
        widget.show()
        widget.raise_()
        widget.setFocus()
        self._moved()
