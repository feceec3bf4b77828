"""Run the window of the Bouts page until it is closed, by its frame or by Ctrl-C."""

from collections.abc import Callable, Sequence

from livemon.view.bouts_commands import BoutsCommands
from livemon.view.qt.bouts_window import BoutsWindow
from livemon.view.qt.until_closed import run_until_closed, sane_application
from livemon.view.settings import ViewSettings

_FIRST_SIZE = (1366, 768)


def run_bouts(
    commands: BoutsCommands,
    settings: ViewSettings,
    *,
    damaged: Sequence[str] = (),
    shown: Callable[[BoutsWindow], None] = lambda window: None,
) -> int:
    """Show the window and return the exit code when it has closed; in the main thread.

    Args:
        commands: reads the recordings.
        settings: what may be chosen about the screen.
        damaged: what is wrong with translations, in words.
        shown: told once the window is on the screen.

    Raises:
        UsageError: the installed Qt binding would end the process.
    """
    application = sane_application()
    window = BoutsWindow(commands, settings)
    window.trouble.say("\n".join(damaged))
    room = application.primaryScreen().availableGeometry()
    window.resize(min(_FIRST_SIZE[0], room.width()), min(_FIRST_SIZE[1], room.height()))
    return run_until_closed(
        application, window, shown=lambda: shown(window), failed=lambda _: _close(window)
    )


def _close(window: BoutsWindow) -> None:
    """Close it: a half-made page would look whole."""
    window.close()
