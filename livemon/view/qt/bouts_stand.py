"""The Bouts page in a window of its own beside the live one.

Its drawing library is imported when somebody opens it: the live window should not wait for that.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from livemon.view.bouts_commands import BoutsCommands
from livemon.view.settings import ViewSettings

if TYPE_CHECKING:
    from livemon.view.qt.bouts_window import BoutsWindow

OpenBouts = Callable[[], BoutsCommands]


class BoutsStand:
    """Opens it anew each time, so that it holds what has been recorded by then."""

    def __init__(self, bouts: OpenBouts) -> None:
        self._bouts = bouts
        self.window: BoutsWindow | None = None

    def open(self, settings: ViewSettings, beside: QWidget) -> None:
        """Read what is there now and show it, in a window as large as `beside`."""
        from livemon.view.qt.bouts_window import BoutsWindow

        self.close()
        self.window = BoutsWindow(self._bouts(), settings)
        self.window.setAttribute(Qt.WidgetAttribute.WA_QuitOnClose, False)  # the session goes on
        self.window.resize(beside.size())
        self.window.show()

    def close(self) -> None:
        """Close it if it is open."""
        if self.window is not None:
            self.window.close()
            self.window.deleteLater()
            self.window = None
