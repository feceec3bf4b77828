"""One list of the Kit page as Qt wants it: its lines, and how a line is drawn."""

from typing import Final

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

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


class Rows(QAbstractListModel):
    """The lines, as Qt wants them."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[KitRow, ...] = ()

    def rowCount(self, parent: Index | None = None) -> int:  # noqa: N802 - Qt's name
        """Return how many lines there are; none has lines below it."""
        return 0 if parent is not None and parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the line itself, or the words for it."""
        row = self.rows[index.row()]
        if role == _ROW:
            return row
        if role in {Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole}:
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


class Lines(QStyledItemDelegate):
    """Draws one line.

    Attributes:
        written: what was drawn since somebody emptied it.
    """

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.look, self.px = look, 14
        self.focused = False
        self.written: list[Written] = []

    @property
    def row_px(self) -> int:
        """How tall a line is."""
        return round(self.px * _HEIGHT)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802 - Qt's
        """Return how tall a line is; it is as wide as the list."""
        return QSize(0, self.row_px)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one line."""
        row, look = index.data(_ROW), self.look
        assert isinstance(row, KitRow)
        theme, px = look.theme, self.px
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
        self.written += scribe.written

    def _draw_choice(self, painter: QPainter, box: QRectF) -> None:
        theme = self.look.theme
        painter.fillRect(box, QColor(theme.band[Priority.INFORMATION]))
        edge = theme.focus if self.focused else theme.scale
        painter.fillRect(QRectF(box.left(), box.top(), 4, box.height()), QColor(edge))
