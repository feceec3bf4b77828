"""One QApplication for all tests of the view; Qt allows no second one in a process."""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

sys.path.insert(0, str(Path(__file__).parent))  # so that tests can import `scenes`


@pytest.fixture(scope="session")
def application() -> QApplication:
    existing = QApplication.instance()
    return existing if isinstance(existing, QApplication) else QApplication([])


@pytest.fixture(autouse=True)
def no_window_stays_open() -> Iterator[None]:
    """Qt ends a program with its last window, so one that a test left open keeps others going."""
    yield
    application = QApplication.instance()
    if isinstance(application, QApplication):
        for window in application.topLevelWidgets():
            window.hide()
