"""A QR code on the screen: dark on light in every theme, whole pixels to a module."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from livemon.tongue import said
from livemon.view.invitation import Matrix


class QrPicture(QWidget):
    """Draws a matrix that has its quiet zone already; not every reader takes an inverted one."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._matrix: Matrix = ()
        self._module_px = 1
        self.setAccessibleName(said("QR code of the invitation"))
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_matrix(self, matrix: Matrix, room_px: int) -> None:
        """Draw it as large as `room_px` allows."""
        module_px = max(room_px // max(len(matrix), 1), 2)
        if (matrix, module_px) == (self._matrix, self._module_px):
            return
        self._matrix, self._module_px = matrix, module_px
        self.setVisible(bool(matrix))
        self.setFixedSize(self.sizeHint())
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the size of the drawing."""
        side = len(self._matrix) * self._module_px
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), Qt.GlobalColor.white)
        px = self._module_px
        for row, modules in enumerate(self._matrix):
            for column, dark in enumerate(modules):
                if dark:
                    painter.fillRect(column * px, row * px, px, px, Qt.GlobalColor.black)
        painter.end()
