"""Small parts of the Kit page: a button that Enter presses too, a field with choices, words."""

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)


class KitButton(QPushButton):
    """Pressed by Space, as Qt has it, and by Enter."""

    def __init__(self, text: str, *, main: bool = False) -> None:
        super().__init__(text)
        if main:
            self.setObjectName("main")

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take Enter as a click."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self.isEnabled():
            self.click()
            return
        super().keyPressEvent(event)


class KitChoice(QComboBox):
    """Choices that may change while somebody looks at them.

    Args:
        name: for whoever does not see it.
        typed: something else may be typed than the choices.
        example: of what may be typed.
    """

    entered = Signal()  #: Enter was pressed in what is typed

    def __init__(self, name: str, *, typed: bool, example: str = "") -> None:
        super().__init__()
        self.setEditable(typed)
        line = self.lineEdit()
        if line is not None:
            line.setPlaceholderText(example)
            line.returnPressed.connect(self.entered)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._offered: tuple[str, ...] = ()

    def offer(self, choices: tuple[str, ...]) -> None:
        """Offer these; what is typed or chosen stays."""
        if choices == self._offered:
            return
        self._offered = choices
        text = self.currentText()
        self.blockSignals(True)
        self.clear()
        self.addItems(choices)
        self.put(text)
        self.blockSignals(False)

    def put(self, text: str) -> None:
        """Show this text; where only choices can be, choose it if it is one."""
        if self.isEditable():
            self.setCurrentIndex(self.findText(text))
            self.setEditText(text)
        else:
            self.setCurrentIndex(max(self.findText(text), 0))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the arrow too: a style sheet takes the system's away."""
        super().paintEvent(event)
        size = self.fontMetrics().capHeight() * 0.5
        middle = QPointF(self.width() - 2.6 * size - 6, self.height() / 2)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        text = self.palette().buttonText() if self.isEnabled() else self.palette().mid()
        painter.setBrush(text)
        corners = (QPointF(-size, -size / 2), QPointF(size, -size / 2), QPointF(0, size / 2))
        painter.drawPolygon(QPolygonF([middle + corner for corner in corners]))
        painter.end()


class Words(QLabel):
    """Words that wrap, and take no room while there are none."""

    def __init__(self, kind: str = "") -> None:
        super().__init__()
        self.setObjectName(kind)
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.hide()

    def say(self, text: str) -> None:
        """Show this."""
        if text != self.text():
            self.setText(text)
            self.setVisible(bool(text))


def card() -> QFrame:
    """Return an empty card."""
    made = QFrame()
    made.setObjectName("card")
    return made


def inside(frame: QFrame) -> QVBoxLayout:
    """Return the layout of what stands in a card, one below the other."""
    made = QVBoxLayout(frame)
    made.setContentsMargins(16, 12, 16, 14)
    made.setSpacing(8)
    return made


def heading(text: str, kind: str = "heading") -> QLabel:
    """Return a heading of this kind."""
    made = QLabel(text)
    made.setObjectName(kind)
    return made


def labelled(label: str, field: QWidget) -> QLabel:
    """Return a label that leads to `field`."""
    made = heading(label, "dim")
    made.setBuddy(field)
    return made
