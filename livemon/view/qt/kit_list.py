"""A list of sensors: painted lines, chosen by arrows or mouse, opened by Enter."""

from typing import Final

from PySide6.QtCore import (
    QAbstractListModel,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFocusEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from livemon.view.kit_rows import KitRow
from livemon.view.model import Tone
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.shapes import draw_fault
from livemon.warn.priority import Priority

_ROW: Final = Qt.ItemDataRole.UserRole
#: By the size of the text: two lines and air around them.
_HEIGHT: Final = 3.7
_LINE: Final = 1.34
Index = QModelIndex | QPersistentModelIndex


class _Rows(QAbstractListModel):
    """The lines, as Qt wants them."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[KitRow, ...] = ()

    def rowCount(self, parent: Index | None = None) -> int:  # noqa: N802 - Qt's name
        return 0 if parent is not None and parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self.rows[index.row()]
        if role == _ROW:
            return row
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return row.spoken
        return row.title if role == Qt.ItemDataRole.DisplayRole else None

    def show_rows(self, rows: tuple[KitRow, ...]) -> bool:
        """Take new lines; return whether they are other ones, not the same with other words."""
        before, self.rows = self.rows, rows
        if [row.key for row in before] != [row.key for row in rows]:
            self.layoutChanged.emit()
            return True
        for at, (old, new) in enumerate(zip(before, rows, strict=True)):
            if old != new:
                self.dataChanged.emit(self.index(at), self.index(at))
        return False


class _Lines(QStyledItemDelegate):
    """Draws one line."""

    def __init__(self, view: "KitList") -> None:
        super().__init__(view)
        self._list = view

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802 - Qt's
        return QSize(0, self._list.row_px)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row, look = index.data(_ROW), self._list.look
        assert isinstance(row, KitRow)
        theme, px = look.theme, self._list.px
        box = QRectF(option.rect)
        state: QStyle.StateFlag = option.state
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if state & QStyle.StateFlag.State_Selected:
            self._draw_choice(painter, box)
        painter.setPen(QColor(theme.rule))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        scribe = Scribe(painter, look.lettering)
        area = box.adjusted(px, 0.35 * px, -px, -0.35 * px)
        value = (1.75 if row.big else _LINE * 0.92) * px
        width = min(scribe.width(row.value, value, bold=row.big), area.width() * 0.5)
        right = QRectF(area.right() - width - 1, area.top(), width + 1, value)
        if row.big:
            right.moveTop(area.center().y() - value / 2)
        colour = theme.ink if row.tone is Tone.FRESH and row.big else theme.dim
        scribe.line(row.value, right, colour, bold=row.big, align=Qt.AlignmentFlag.AlignRight)
        left = area.adjusted(0, 0, -width - px if row.big else 0, 0)
        title = QRectF(left.left(), left.top(), area.width() - width - px, _LINE * px)
        scribe.line(row.title, title, theme.ink, bold=row.big)
        below = QRectF(left.left(), left.bottom() - _LINE * px * 0.92, left.width(), _LINE * px)
        if row.needs:
            draw_fault(painter, QRectF(below.left(), below.top() + 0.2 * px, px, px), theme.ink)
            below.setLeft(below.left() + 1.5 * px)
        scribe.line(row.below, below, theme.ink if row.needs else theme.dim)
        painter.restore()
        self._list.written += scribe.written

    def _draw_choice(self, painter: QPainter, box: QRectF) -> None:
        theme = self._list.look.theme
        painter.fillRect(box, QColor(theme.band[Priority.INFORMATION]))
        edge = theme.focus if self._list.hasFocus() else theme.scale
        painter.fillRect(QRectF(box.left(), box.top(), 4, box.height()), QColor(edge))


class KitList(QListView):
    """Shows rows, remembers the chosen one by its key."""

    chosen = Signal(str)
    opened = Signal(str)

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.look = look
        self.px = 14
        self.written: list[Written] = []
        self._key = ""
        self._empty = ""
        self._rows = _Rows()
        self.setModel(self._rows)
        self.setItemDelegate(_Lines(self))
        self.setUniformItemSizes(True)
        self.setAccessibleName(name)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.selectionModel().currentChanged.connect(self._choose)
        self.activated.connect(lambda index: self.opened.emit(self._rows.rows[index.row()].key))

    @property
    def row_px(self) -> int:
        """How tall a line is."""
        return round(self.px * _HEIGHT)

    @property
    def key(self) -> str:
        """The chosen line's key; empty if none is."""
        return self._key

    def set_look(self, look: Look, px: int) -> None:
        """Draw in these colours, and text of this size, from now on."""
        self.look, self.px = look, px
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
        self.written = []
        super().paintEvent(event)
        if self._rows.rows:
            return
        painter = QPainter(self.viewport())
        painter.setPen(QColor(self.look.theme.dim))
        painter.setFont(self.look.lettering.at(self.px, bold=False)[0])
        area = self.viewport().rect().adjusted(self.px, self.px, -self.px, -self.px)
        painter.drawText(area, Qt.TextFlag.TextWordWrap, self._empty)
        painter.end()
