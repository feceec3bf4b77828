"""When the plans lie over the page, and for whom they are offered."""

from livemon.view.plan_commands import PlanCommands
from livemon.view.qt.plan_panel import PlanPanel
from livemon.view.qt.screen import Screen
from livemon.view.viewer import Viewer


class PlanStand:
    """Opens and closes the panel."""

    def __init__(self, commands: PlanCommands, viewer: Viewer, screen: Screen) -> None:
        self._viewer, self._screen = viewer, screen
        self._panel = PlanPanel(commands)
        screen.over.add(self._panel)

    def toggle(self) -> None:
        """Show the plans, for the chosen athlete of several too; or hide them."""
        if not self._panel.isVisible():
            lane, several = self._viewer.chosen, len(self._viewer.lanes) > 1
            one = lane if several else None
            self._panel.read(None if one is None else (one.athlete, one.name or one.athlete))
        self._screen.over.toggle(self._panel)

    def refresh(self) -> None:
        """Show how the plans stand."""
        if self._panel.isVisible():
            self._panel.show_standing()
