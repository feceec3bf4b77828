"""A line of text above a panel, inside the picture: what it shows, and the key to its curves."""

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSizeF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import (
    QGraphicsWidget,
    QSizePolicy,
    QStyleOptionGraphicsItem,
    QWidget,
)

from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.shapes import draw_marker

_LINE: Final = 1.9
_TEXT: Final = 1.28


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """A curve's marker and its name."""

    place: int
    label: str


class Strip(QGraphicsWidget):
    """Title at the left; the key after it, in as many lines as it needs."""

    def __init__(self) -> None:
        super().__init__()
        self._look: Look | None = None
        self._px = 14
        self._title = ""
        self._key: tuple[KeyEntry, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.written: list[Written] = []

    def show_text(self, title: str, key: tuple[KeyEntry, ...], look: Look, px: int) -> None:
        """Show this."""
        self._title, self._key, self._look, self._px = title, key, look, px
        self._take_room(self.size().width())
        self.update()

    def resizeEvent(self, event: object) -> None:  # noqa: N802 - Qt's name
        """Take another line where the key needs one."""
        self._take_room(self.size().width())

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Write title and key."""
        if self._look is None:
            return
        look, px = self._look, self._px
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scribe = Scribe(painter, look.lettering)
        room = QRectF(0, 0, self.size().width(), px * _LINE)
        scribe.line(self._title, _text_box(room, px), look.theme.dim)
        for entry, box in self._placed(room.width()):
            centre = QPointF(box.left() + px * 0.4, box.center().y())
            draw_marker(painter, centre, px * 0.6, entry.place, look)
            scribe.line(entry.label, _text_box(box.adjusted(px, 0, 0, 0), px), look.theme.ink)
        self.written = scribe.written

    def _take_room(self, width: float) -> None:
        boxes = [box for _, box in self._placed(width)]
        bottom = max([box.bottom() for box in boxes], default=self._px * _LINE)
        if bottom != self.minimumHeight():
            self.setMinimumHeight(bottom)
            self.setMaximumHeight(bottom)
            self.setPreferredHeight(bottom)

    def _placed(self, width: float) -> list[tuple[KeyEntry, QRectF]]:
        """Return each entry's box; what doesn't fit beside the last one goes to the next line."""
        if self._look is None or width <= 0:
            return []
        px = self._px
        _, metrics = self._look.lettering.at(px, bold=False)
        room = metrics.horizontalAdvance(self._title) + px * 1.6
        x, y = room if self._title else 0.0, 0.0
        placed: list[tuple[KeyEntry, QRectF]] = []
        for entry in self._key:
            wide = min(metrics.horizontalAdvance(entry.label) + px * 1.4, width)
            if x + wide > width and x > 0:
                x, y = 0.0, y + px * _LINE
            placed.append((entry, QRectF(QPointF(x, y), QSizeF(wide, px * _LINE))))
            x += wide + px * 1.2
        return placed


def _text_box(room: QRectF, px: float) -> QRectF:
    height = px * _TEXT
    return QRectF(room.left(), room.center().y() - height / 2, room.width(), height)
