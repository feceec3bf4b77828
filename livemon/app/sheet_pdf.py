"""Print a sheet into a PDF, with a screen or without one."""

import os
import sys
from pathlib import Path

from livemon.errors import UsageError
from livemon.report.paper import Paper
from livemon.view.qt.availability import why_no_window

_NO_SCREEN = ("-platform", "offscreen")


def write_pdf(path: Path, paper: Paper) -> None:
    """Write the file.

    Raises:
        UsageError: it can't be written, or Qt can't be started here.
    """
    without = () if why_no_window(os.environ) is None else _NO_SCREEN
    obstacle = why_no_window({"QT_QPA_PLATFORM": "offscreen"}) if without else None
    if obstacle is not None:
        raise UsageError(f"{obstacle}\nA sheet that ends in .html needs none of them.")
    from PySide6.QtGui import QGuiApplication

    from livemon.view.qt.paper import print_pdf  # Qt only where it is needed

    application = QGuiApplication.instance() or QGuiApplication([sys.argv[0], *without])
    print_pdf(path, paper.title, paper.html, paper.pictures)
    del application
