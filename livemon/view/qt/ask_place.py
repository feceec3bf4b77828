"""Ask where a file is to go, and go on meanwhile: a live session may be running beside."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QWidget


def ask_place(
    parent: QWidget,
    title: str,
    suggested: str,
    kinds: tuple[str, ...],
    chosen: Callable[[Path], None],
    *,
    asks_before_replacing: bool = True,
) -> QFileDialog:
    """Open the dialog; `chosen` is told the place, or never called."""
    dialog = QFileDialog(parent, title)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setNameFilters(kinds)
    dialog.selectFile(suggested)
    dialog.setOption(QFileDialog.Option.DontConfirmOverwrite, not asks_before_replacing)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.fileSelected.connect(lambda name: chosen(Path(name)))
    dialog.open()
    return dialog
