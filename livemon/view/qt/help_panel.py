"""The list of keys, laid over the page."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QWidget

from livemon.tongue import said
from livemon.view.keys import Key


class HelpPanel(QFrame):
    """One row a key, from the table that also makes the shortcuts."""

    def __init__(self, keys: tuple[Key, ...], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.Box)
        self.setAutoFillBackground(True)
        self.setAccessibleName(said("Keys"))
        self.setAccessibleDescription(
            "; ".join(f"{said(key.shown)}: {said(key.does)}" for key in keys)
        )
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        rows = QGridLayout(self)
        rows.setContentsMargins(28, 22, 28, 22)
        rows.setHorizontalSpacing(24)
        rows.setVerticalSpacing(9)
        for at, key in enumerate(keys):
            shown = QLabel(said(key.shown))
            font = shown.font()
            font.setBold(True)
            shown.setFont(font)
            rows.addWidget(shown, at, 0)
            rows.addWidget(QLabel(said(key.does)), at, 1)
