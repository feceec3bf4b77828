"""From the layouts' plain boxes to Qt's rectangles."""

from PySide6.QtCore import QRect, QRectF

from livemon.view.layout import Box


def exact(box: Box) -> QRectF:
    """Return `box` for drawing."""
    return QRectF(box.x, box.y, box.width, box.height)


def whole(box: Box) -> QRect:
    """Return `box` on whole pixels, for placing widgets; neighbours stay neighbours."""
    left, top = round(box.x), round(box.y)
    return QRect(left, top, round(box.right) - left, round(box.bottom) - top)
