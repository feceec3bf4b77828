"""Qt's application, and a window in it until that is closed, by its frame or by a signal."""

import signal
import sys
from collections.abc import Callable
from types import TracebackType

from PySide6.QtWidgets import QApplication, QWidget

from livemon.errors import UsageError
from livemon.view.qt.canary import qt_binding_is_sane


def sane_application() -> QApplication:
    """Return the one application of this process.

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
    return application


def run_until_closed(
    application: QApplication,
    window: QWidget,
    *,
    shown: Callable[[], None],
    failed: Callable[[BaseException], None],
    closed: Callable[[], None] = lambda: None,
) -> int:
    """Show the window; return the exit code when it has closed.

    Qt prints errors of its slots and goes on. Here they are told to `failed`, which must see to it
    that nothing half-drawn looks whole, and the first is raised again once the window has closed.
    """
    failures: list[BaseException] = []

    def heard(
        _kind: type[BaseException], error: BaseException, _trace: TracebackType | None
    ) -> None:
        failures.append(error)
        failed(error)

    before = {name: signal.getsignal(name) for name in (signal.SIGINT, signal.SIGTERM)}
    hook, sys.excepthook = sys.excepthook, heard
    for name in before:
        # The window's refresh timer lets the interpreter run often enough to notice the signal.
        signal.signal(name, lambda *_: window.close())
    try:
        window.show()
        shown()
        code = application.exec()
    finally:
        sys.excepthook = hook
        for name, handler in before.items():
            signal.signal(name, handler)
    closed()
    window.deleteLater()
    application.processEvents()
    if failures:
        raise failures[0]
    return code
