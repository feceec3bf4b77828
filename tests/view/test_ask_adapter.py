"""An adapter file is asked for without a loop inside the loop."""

from pathlib import Path

import kit_scenes
from PySide6.QtWidgets import (
    QApplication,
    QDialogButtonBox,
    QFileDialog,
    QLineEdit,
    QPushButton,
    QWidget,
)

from livemon.view.qt.ask_adapter import ask_adapter
from livemon.view.qt.kit_page import KitPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.theme import DARK


def test_the_program_goes_on_until_a_file_is_chosen(
    application: QApplication, tmp_path: Path
) -> None:
    path = tmp_path / "mine.toml"
    path.touch()
    told: list[str] = []
    parent = QWidget()
    dialog = ask_adapter(parent, told.append)
    assert dialog.isVisible()  # and yet we are here
    assert told == []

    (name,) = dialog.findChildren(QLineEdit)
    name.setText(str(path))
    buttons = dialog.findChild(QDialogButtonBox)
    assert isinstance(buttons, QDialogButtonBox)
    buttons.button(QDialogButtonBox.StandardButton.Open).click()
    application.processEvents()

    assert told == [str(path)]


def test_nothing_is_told_when_nothing_is_chosen(application: QApplication) -> None:
    told: list[str] = []
    parent = QWidget()
    ask_adapter(parent, told.append).reject()
    application.processEvents()

    assert told == []


def test_the_kit_page_asks_so_and_hands_the_file_on(
    application: QApplication, tmp_path: Path
) -> None:
    asked = kit_scenes.Asked()
    page = KitPage(Look(DARK, Lettering(), motion=False), asked)
    (button,) = (one for one in page.findChildren(QPushButton) if "adapter file" in one.text())
    button.click()
    (dialog,) = page.findChildren(QFileDialog)
    dialog.fileSelected.emit(str(tmp_path / "mine.toml"))
    dialog.reject()

    assert asked.list == [("adapter", str(tmp_path / "mine.toml"))]
