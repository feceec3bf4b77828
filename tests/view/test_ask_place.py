"""A place is asked for without a loop inside the loop."""

from pathlib import Path

from PySide6.QtWidgets import QApplication, QDialogButtonBox, QWidget

from livemon.view.qt.ask_place import ask_place


def test_the_program_goes_on_until_a_place_is_chosen(
    application: QApplication, tmp_path: Path
) -> None:
    told: list[Path] = []
    parent = QWidget()
    dialog = ask_place(
        parent, "Export", str(tmp_path / "recording.csv"), ("Tables (*.csv)",), told.append
    )
    assert dialog.isVisible()  # and yet we are here
    assert told == []

    buttons = dialog.findChild(QDialogButtonBox)
    assert isinstance(buttons, QDialogButtonBox)
    buttons.button(QDialogButtonBox.StandardButton.Save).click()
    application.processEvents()

    assert told == [tmp_path / "recording.csv"]


def test_nothing_is_told_when_nothing_is_chosen(application: QApplication, tmp_path: Path) -> None:
    told: list[Path] = []
    parent = QWidget()
    ask_place(parent, "Export", str(tmp_path / "a.csv"), ("Tables (*.csv)",), told.append).reject()
    application.processEvents()

    assert told == []
