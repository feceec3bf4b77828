"""The line for a note or a value, with room below it to say what is wrong."""

from PySide6.QtWidgets import QFrame, QLabel, QLineEdit, QVBoxLayout, QWidget

from livemon.tongue import marked, said

_HINT = marked(
    "Note, or: rpe 7 · la 4.2 earlobe · 3 la 4.2 · 1,3 bout sled push · all end.  Enter, Esc"
)


class EntryLine(QFrame):
    """A line edit and a hint, laid over the page."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.Box)
        self.setAutoFillBackground(True)
        self._line = QLineEdit(self)
        self._line.setAccessibleName(said("Note or value"))
        self._hint = QLabel(self)
        self._hint.setWordWrap(True)
        rows = QVBoxLayout(self)
        rows.addWidget(self._line)
        rows.addWidget(self._hint)

    def ask(self) -> None:
        """Open empty."""
        self._line.clear()
        self._say(said(_HINT))
        self.show()
        self.raise_()
        self._line.setFocus()

    def text(self) -> str:
        """Return what stands in the line."""
        return self._line.text().strip()

    def refuse(self, problem: str) -> None:
        """Stay open and say what is wrong."""
        self._say(problem)
        self._line.setFocus()

    def _say(self, words: str) -> None:
        self._hint.setText(words)
        self._line.setAccessibleDescription(words)
