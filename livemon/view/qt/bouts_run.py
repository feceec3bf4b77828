"""Run the window of the Bouts page until it is closed, by its frame or by Ctrl-C."""

import signal
import sys
from collections.abc import Callable
from types import TracebackType

from PySide6.QtWidgets import QApplication

from livemon.errors import UsageError
from livemon.view.bouts_commands import BoutsCommands
from livemon.view.qt.bouts_window import BoutsWindow
from livemon.view.qt.canary import qt_binding_is_sane
from livemon.view.settings import ViewSettings

_FIRST_SIZE = (1366, 768)


def run_bouts(
    commands: BoutsCommands,
    settings: ViewSettings,
    *,
    shown: Callable[[BoutsWindow], None] = lambda window: None,
) -> int:
    """Show the window and return the exit code when it has closed; in the main thread.

    Args:
        commands: reads the recordings.
        settings: what may be chosen about the screen.
        shown: told once the window is on the screen.

    Raises:
        UsageError: the installed Qt binding would end the process.
    """
    application = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(application, QApplication)
    application.setApplicationName("livemon")
    if not qt_binding_is_sane():
        raise UsageError(
            "the installed PySide6 loses references and would end the program within seconds; "
            'install another: pip install "PySide6-Essentials>=6.8,<6.12"'
        )
    window = BoutsWindow(commands, settings)
    room = application.primaryScreen().availableGeometry()
    window.resize(min(_FIRST_SIZE[0], room.width()), min(_FIRST_SIZE[1], room.height()))
    failures: list[BaseException] = []

    def failed(
        kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """Qt prints errors of its slots and goes on; a half-made page would look whole."""
        failures.append(error)
        window.close()

    before = {name: signal.getsignal(name) for name in (signal.SIGINT, signal.SIGTERM)}
    hook, sys.excepthook = sys.excepthook, failed
    for name in before:
        signal.signal(name, lambda *_: window.close())
    try:
        window.show()
        shown(window)
        code = application.exec()
    finally:
        sys.excepthook = hook
        for name, handler in before.items():
            signal.signal(name, handler)
    window.deleteLater()
    application.processEvents()
    if failures:
        raise failures[0]
    return code
