"""The keys of the table as shortcuts of a window, and when they give way to what has the focus."""

from collections.abc import Callable
from functools import partial

from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from livemon.view.keys import Action, Key


class Shortcuts:
    """Calls `do` with the action whose key was pressed, if `knows` says that it means that now.

    A key that means nothing now is left to whatever has the focus: else Space could never tick a
    box, nor Enter choose from a list.
    """

    def __init__(
        self,
        keys: tuple[Key, ...],
        window: QWidget,
        *,
        do: Callable[[Action], object],
        knows: Callable[[Action], bool],
    ) -> None:
        self._do, self._knows = do, knows
        self._shortcuts: list[tuple[Action, QShortcut]] = []
        for key in keys:
            for sequence in key.keys:
                shortcut = QShortcut(QKeySequence(sequence), window)
                shortcut.activated.connect(partial(self._pressed, key.action))
                self._shortcuts.append((key.action, shortcut))

    def give_way(self) -> None:
        """Look which keys mean something now; called at every refresh."""
        for action, shortcut in self._shortcuts:
            if shortcut.isEnabled() is not (known := self._knows(action)):
                shortcut.setEnabled(known)

    def _pressed(self, action: Action) -> None:
        if self._knows(action):
            self._do(action)
            self.give_way()
