"""When the invitation lies over the page."""

from collections.abc import Callable

from livemon.view.invitation import InvitationModel
from livemon.view.qt.invitation_panel import InvitationPanel
from livemon.view.qt.screen import Screen


class InvitationStand:
    """Opens and closes the panel."""

    def __init__(self, invitation: Callable[[], InvitationModel], screen: Screen) -> None:
        self._screen = screen
        self._panel = InvitationPanel(invitation)
        screen.over.add(self._panel)

    def toggle(self) -> None:
        """Show how to join, or hide it."""
        self._panel.refresh(self._screen.height())
        self._screen.over.toggle(self._panel)

    def refresh(self) -> None:
        """Show whom the door has refused by now."""
        if self._panel.isVisible():
            self._panel.refresh(self._screen.height())
