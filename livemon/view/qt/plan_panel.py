"""The plans to choose from, laid over the page: for everybody, or for one athlete."""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QPushButton,
    QScrollArea,
    QWidget,
)

from livemon.tongue import marked, said
from livemon.view.plan_choice import choice_words, list_words
from livemon.view.plan_commands import PlanChoice, PlanCommands
from livemon.view.words import shortened

#: Together they fit the smallest window.
_LIST_PX: Final = 260
_STEPS_PX: Final = 440
#: Where the list of steps begins to scroll.
_TALL_PX: Final = 400
#: A button has room for so much of a name.
_NAME: Final = 20
_GAP_PX: Final = 8
_KEYS: Final = marked("↑ ↓ choose · Enter for everybody · Shift Enter for one · Del no plan · Esc")


class PlanPanel(QFrame):
    """A list of plans, what the selected one does, and for whom it is to be."""

    def __init__(self, commands: PlanCommands, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._commands = commands
        self._choices: tuple[PlanChoice, ...] = ()
        self._athlete: str | None = None
        self.setFrameShape(QFrame.Shape.Box)
        self.setAutoFillBackground(True)
        self.setAccessibleName(said("Plans"))
        self._list = QListWidget()
        self._list.setAccessibleName(said("Plans to choose from"))
        self._list.setFixedWidth(_LIST_PX)
        self._list.setWordWrap(True)
        self._list.setSpacing(2)
        self._list.currentRowChanged.connect(self._describe)
        self._steps = QLabel()
        self._steps.setWordWrap(True)
        self._steps.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._steps.setTextFormat(Qt.TextFormat.PlainText)
        self._steps.setContentsMargins(8, 4, 8, 4)
        scroll = QScrollArea()
        scroll.setWidget(self._steps)
        scroll.setWidgetResizable(True)
        scroll.setFixedSize(_STEPS_PX, _TALL_PX)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._standing = QLabel()
        self._standing.setWordWrap(True)
        self._standing.setTextFormat(Qt.TextFormat.PlainText)
        self._folder = QLabel()
        self._folder.setWordWrap(True)
        self._folder.setTextFormat(Qt.TextFormat.PlainText)
        self._one = QPushButton()
        self._all = QPushButton(said("For everybody"))
        none = QPushButton(said("No plan"))
        self._all.clicked.connect(lambda: self._choose(None))
        self._one.clicked.connect(lambda: self._choose(self._athlete))
        none.clicked.connect(self._choose_none)
        buttons = QHBoxLayout()
        buttons.setSpacing(_GAP_PX)
        for button in (self._all, self._one, none):
            buttons.addWidget(button)
        buttons.addStretch()
        rows = QGridLayout(self)
        rows.setContentsMargins(28, 22, 28, 22)
        rows.setVerticalSpacing(10)
        rows.addWidget(self._list, 0, 0)
        rows.addWidget(scroll, 0, 1)
        rows.addWidget(self._standing, 1, 0, 1, 2)
        rows.addLayout(buttons, 2, 0, 1, 2)
        rows.addWidget(self._folder, 3, 0, 1, 2)
        rows.addWidget(QLabel(said(_KEYS)), 4, 0, 1, 2)
        self.setFocusProxy(self._list)

    def read(self, one: tuple[str, str] | None) -> None:
        """Read the plans afresh; `one` is an athlete, by id and name, whom one can be for alone."""
        self._athlete, name = (None, "") if one is None else one
        self._choices = self._commands.choices()
        self._one.setText(said("For {athlete}", athlete=shortened(name, _NAME)))
        self._one.setVisible(one is not None)
        self._folder.setText(
            said("Own plans, one file each: {folder}", folder=self._commands.folder())
        )
        row = max(self._list.currentRow(), 0)
        self._list.clear()
        self._list.addItems([list_words(choice) for choice in self._choices])
        self._list.setCurrentRow(min(row, len(self._choices) - 1))
        self.show_standing()

    def show_standing(self) -> None:
        """Say which plans were chosen and how they stand."""
        words = "\n".join(self._commands.standing()) or said("No plan is chosen.")
        if words != self._standing.text():
            self._standing.setText(words)
            self._standing.setAccessibleName(words)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take what the list leaves: whom the plan is for, or none."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            self._choose(self._athlete if shift else None)
        elif event.key() == Qt.Key.Key_Delete:
            self._choose_none()
        else:
            super().keyPressEvent(event)

    def _choose(self, athlete: str | None) -> None:
        row = self._list.currentRow()
        if 0 <= row < len(self._choices) and not self._choices[row].problem:
            self._commands.choose(athlete, self._choices[row].key)

    def _choose_none(self) -> None:
        self._commands.choose(None, None)
        if self._athlete is not None:
            self._commands.choose(self._athlete, None)

    def _describe(self, row: int) -> None:
        usable = 0 <= row < len(self._choices)
        words = choice_words(self._choices[row]) if usable else ""
        self._steps.setText(words)
        self._list.setAccessibleDescription(words)
        chosen = usable and not self._choices[row].problem
        self._all.setEnabled(chosen)
        self._one.setEnabled(chosen)
