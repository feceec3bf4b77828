"""The screen kept on while a session is live: asked at each refresh, and told if it can't be."""

from collections.abc import Callable
from typing import Final

from livemon.tongue import said
from livemon.view.qt.settings_panel import SettingsPanel
from livemon.view.settings import ViewSettings

#: Said at the beginning, so that somebody changes the system's setting; then it is only clutter.
_TOLD_S: Final = 30.0


class Wakefulness:
    """Asks `awake`, which keeps the screen on or lets it go, and returns why it may go dark.

    Args:
        awake: None where nothing is to be kept on, as in a replay.
        panel: says the reason for as long as it holds.
    """

    def __init__(self, awake: Callable[[bool], str] | None, panel: SettingsPanel) -> None:
        self._awake, self._panel = awake, panel

    def notices(self, settings: ViewSettings, now_s: float) -> tuple[str, ...]:
        """Keep it on as the settings say; return what is to be said at the edge."""
        dark = "" if self._awake is None else self._awake(settings.awake)
        self._panel.show_awake(dark)
        return (said("screen may go dark"),) if dark and now_s < _TOLD_S else ()
