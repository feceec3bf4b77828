"""Ask for an adapter file, and go on meanwhile: a live session may be running beside."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QWidget

from livemon.tongue import said


def ask_adapter(parent: QWidget, chosen: Callable[[str], None]) -> QFileDialog:
    """Open the dialog; `chosen` is told the path of the file, or never called."""
    dialog = QFileDialog(parent, said("Adapter file"))
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.setNameFilter(f"{said('Adapters')} (*.toml)")
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.fileSelected.connect(chosen)
    dialog.open()
    return dialog
