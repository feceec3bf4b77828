"""When the Kit page stands in the window: while nobody is measured, and when it is asked for."""

from typing import Final

from livemon.monitor.snapshot import SessionSnapshot
from livemon.view.keys import Action
from livemon.view.kit_commands import KitCommands
from livemon.view.kit_present import present_kit
from livemon.view.qt.kit_page import KitPage
from livemon.view.qt.look import Look
from livemon.view.qt.screen import Screen
from livemon.view.settings import ViewSettings

#: What keys do while the page is shown; marks are for the pages that show what they are about.
ON_KIT: Final = frozenset(
    {
        Action.KIT, Action.FULL_SCREEN, Action.THEME, Action.SOUND, Action.SETTINGS, Action.HELP,
        Action.BACK, Action.CLOSE,
    }
)  # fmt: skip


class KitStand:
    """Opens the page, shows what `commands` tell, and leaves it."""

    def __init__(self, commands: KitCommands, look: Look, screen: Screen) -> None:
        self._commands, self._screen = commands, screen
        self._page = KitPage(look, commands)
        self._page.left.connect(self.leave)
        self._wanted = False
        self._anybody = False
        screen.add_page(self._page)

    @property
    def open(self) -> bool:
        """Whether the page is to be seen."""
        return self._wanted or not self._anybody

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._page.set_look(look)

    def toggle(self) -> None:
        """Open it, or leave it."""
        if not self.leave():
            self._wanted = True

    def leave(self) -> bool:
        """Go on to the live pages; return False if it isn't open, or there is nobody to show."""
        if not self.open or not self._anybody:
            return False
        self._wanted = False
        self._screen.setFocus()
        return True

    def show(self, snapshot: SessionSnapshot | None, settings: ViewSettings) -> bool:
        """Show the page if it is to be seen; return whether it is."""
        anybody = snapshot is not None and bool(snapshot.lanes)
        if anybody and not self._anybody and self._page.isVisible():
            self._wanted = True  # the first athlete was added here: there is more to do
        self._anybody = anybody
        if not self.open:
            return False
        self._page.show_model(present_kit(self._commands.facts(), snapshot, settings))
        self._screen.show_page(self._page)
        return True
