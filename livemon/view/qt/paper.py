"""Print rich text with vector pictures into a PDF of A4 pages: Qt's own text engine and PDF writer.

The type shrinks until all is on one page, but never below what can be read. Knows nothing of what
is printed.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Final

from PySide6.QtCore import QByteArray, QMarginsF, QRect, QRectF, QSizeF
from PySide6.QtGui import (
    QFont,
    QGuiApplication,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QPyTextObject,
    QTextDocument,
    QTextFormat,
)
from PySide6.QtSvg import QSvgRenderer

from livemon.errors import UsageError

#: Running text on paper is read from 8 pt on (common practice, no source).
_SIZES_PT: Final = (10.5, 10.0, 9.5, 9.0, 8.5, 8.0)
_MARGINS_MM: Final = QMarginsF(13, 11, 13, 11)
_RESOLUTION: Final = 1200
_WHOLE: Final = 1000  #: pictures give their width in thousandths of the page's
_BLACK: Final = "#16202b"


class _Pictures(QPyTextObject):
    """Draws SVG where the text has a picture's name."""

    def __init__(self, pictures: Mapping[str, str]) -> None:
        super().__init__()
        self._drawn = {
            name: QSvgRenderer(QByteArray(svg.encode())) for name, svg in pictures.items()
        }

    def intrinsicSize(  # noqa: N802 - Qt's name
        self, document: QTextDocument, place: int, kind: QTextFormat
    ) -> QSizeF:
        """Return the size: a share of the page's width, and as high as the picture asks."""
        image = kind.toImageFormat()
        wide = document.pageSize().width() * image.width() / _WHOLE
        box = self._drawn[image.name()].viewBoxF()
        return QSizeF(wide, wide * box.height() / box.width())

    def drawObject(  # noqa: N802 - Qt's name
        self, painter: QPainter, room: QRectF | QRect, document: QTextDocument, place: int,
        kind: QTextFormat,
    ) -> None:  # fmt: skip
        """Draw it."""
        self._drawn[kind.toImageFormat().name()].render(painter, QRectF(room))


def print_pdf(path: Path, title: str, html: str, pictures: Mapping[str, str]) -> int:
    """Write the file; return how many pages it has. Needs a QGuiApplication.

    Raises:
        UsageError: it can't be written.
    """
    assert QGuiApplication.instance() is not None
    writer = QPdfWriter(str(path))
    writer.setResolution(_RESOLUTION)
    writer.setTitle(title)
    writer.setCreator("livemon")
    writer.setPageLayout(
        QPageLayout(
            QPageSize(QPageSize.PageSizeId.A4), QPageLayout.Orientation.Portrait, _MARGINS_MM,
            QPageLayout.Unit.Millimeter,
        )
    )  # fmt: skip
    drawn = _Pictures(pictures)
    document = _laid_out(writer, html, drawn)
    painter = QPainter()
    if not painter.begin(writer):
        raise UsageError(f"{path} can't be written.")
    page = QSizeF(writer.width(), writer.height())
    for number in range(document.pageCount()):
        if number:
            writer.newPage()
        seen = QRectF(0, number * page.height(), page.width(), page.height())
        painter.save()
        painter.translate(0, -seen.top())
        document.drawContents(painter, seen)
        painter.restore()
    painter.end()
    return document.pageCount()


def _laid_out(writer: QPdfWriter, html: str, drawn: _Pictures) -> QTextDocument:
    """Return the text in the largest type that needs one page, or in the smallest there is."""
    document = QTextDocument()
    document.documentLayout().setPaintDevice(writer)
    document.documentLayout().registerHandler(
        QTextFormat.ObjectTypes.ImageObject.value, drawn
    )  # fmt: skip
    document.setDocumentMargin(0)
    document.setDefaultStyleSheet(f"p {{ margin: 0; }} body, td {{ color: {_BLACK}; }}")
    for size_pt in _SIZES_PT:
        font = QFont(QGuiApplication.font().family())
        font.setPointSizeF(size_pt)
        document.setDefaultFont(font)
        document.setHtml(html)
        document.setPageSize(QSizeF(writer.width(), writer.height()))
        if document.pageCount() == 1:
            break
    return document
