"""One button for each device that a sensor may be, where only a person can tell."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from livemon.tongue import said
from livemon.view.kit_model import ChoiceModel
from livemon.view.qt.kit_parts import KitButton


class KitChoosers(QWidget):
    """The buttons, and word of the one that was pressed."""

    chosen = Signal(str)  #: the address of the device that is meant

    def __init__(self) -> None:
        super().__init__()
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._buttons: list[KitButton] = []
        self._offered: tuple[ChoiceModel, ...] = ()
        self.hide()

    def offer(self, choices: tuple[ChoiceModel, ...]) -> None:
        """Show one button for each device that may be meant."""
        if [one.address for one in choices] != [one.address for one in self._offered]:
            for button in self._buttons:
                self._rows.removeWidget(button)
                button.hide()
                button.deleteLater()
            self._buttons = [self._button(one) for one in choices]
        self._offered = choices
        for button, one in zip(self._buttons, choices, strict=True):
            button.setText(said("It is {device}", device=one.words))
        self.setVisible(bool(choices))

    def _button(self, one: ChoiceModel) -> KitButton:
        button = KitButton(one.words)
        button.clicked.connect(lambda _=False: self.chosen.emit(one.address))
        self._rows.addWidget(button)
        return button
