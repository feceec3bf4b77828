"""A list of sensors: chosen by arrows or mouse, opened by Enter, told apart by their keys."""

from PySide6.QtCore import QItemSelectionModel, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QListView, QWidget

from livemon.view.kit_rows import KitRow
from livemon.view.qt.kit_lines import Index, Lines, Rows
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Written


class KitList(QListView):
    """Shows rows, remembers the chosen one by its key."""

    chosen = Signal(str)
    opened = Signal(str)

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._key = ""
        self._empty = ""
        self._rows, self._lines = Rows(), Lines(look)
        self.setModel(self._rows)
        self.setItemDelegate(self._lines)
        self.setUniformItemSizes(True)
        self.setAccessibleName(name)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.selectionModel().currentChanged.connect(self._choose)
        self.activated.connect(lambda index: self.opened.emit(self._rows.rows[index.row()].key))

    @property
    def row_px(self) -> int:
        """How tall a line is."""
        return self._lines.row_px

    @property
    def written(self) -> list[Written]:
        """What stands in the lines that are seen."""
        return self._lines.written

    @property
    def key(self) -> str:
        """The chosen line's key; empty if none is."""
        return self._key

    def set_look(self, look: Look, px: int) -> None:
        """Draw in these colours, and text of this size, from now on."""
        self._look = self._lines.look = look
        self._lines.px = px
        self._rows.layoutChanged.emit()
        self.viewport().update()

    def show_rows(self, rows: tuple[KitRow, ...], empty: str) -> None:
        """Show these lines, or the words that stand where there are none."""
        if empty != self._empty:
            self._empty = empty
            self.setAccessibleDescription(empty)
            self.viewport().update()
        if self._rows.show_rows(rows):
            self._mark(self._key)

    def choose(self, key: str) -> None:
        """Choose this line; an empty key chooses none."""
        self._key = key
        self._mark(key)

    def _mark(self, key: str) -> None:
        """Move Qt's own mark to the line, wherever it stands now; nobody is told."""
        keys = [row.key for row in self._rows.rows]
        self.selectionModel().blockSignals(True)
        if key in keys:
            index = self._rows.index(keys.index(key))
            self.selectionModel().setCurrentIndex(
                index, QItemSelectionModel.SelectionFlag.ClearAndSelect
            )
        else:
            self._key = ""
            self.selectionModel().clear()
        self.selectionModel().blockSignals(False)
        self.viewport().update()

    def _choose(self, index: Index) -> None:
        if index.isValid() and index.row() < len(self._rows.rows):
            self._key = self._rows.rows[index.row()].key
            self.chosen.emit(self._key)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Choose nothing: Qt's own list would choose its first line, and change the form."""
        QWidget.focusInEvent(self, event)
        self.viewport().update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the lines, or the words in their stead."""
        self._lines.written = []
        self._lines.focused = self.hasFocus()
        super().paintEvent(event)
        if self._rows.rows:
            return
        painter, px = QPainter(self.viewport()), self._lines.px
        painter.setPen(QColor(self._look.theme.dim))
        painter.setFont(self._look.lettering.at(px, bold=False)[0])
        area = self.viewport().rect().adjusted(px, px, -px, -px)
        painter.drawText(area, Qt.TextFlag.TextWordWrap, self._empty)
        painter.end()
