"""Find the text on a page, and what is wrong with where it stands."""

from itertools import combinations

from PySide6.QtCore import QPoint, QRectF
from PySide6.QtWidgets import QWidget

from livemon.view.qt.scribe import Written


def written(root: QWidget) -> list[tuple[QRectF, Written, QRectF]]:
    """Return every line of text: the rectangle of its part, itself, its place on the page."""
    found = []
    for part in root.findChildren(QWidget):
        if not part.isHidden():
            corner = part.mapTo(root, QPoint(0, 0))
            lines = getattr(part, "written", ())
            found += [(QRectF(part.rect()), line, line.rect.translated(corner)) for line in lines]
    return found


def misplaced(root: QWidget) -> list[str]:
    """Return a line for each text that leaves its part or lies over another."""
    lines = written(root)
    outside = [
        f"{line.text!r} leaves its part: {line.rect} in {part}"
        for part, line, _ in lines
        if not part.adjusted(-0.5, -0.5, 0.5, 0.5).contains(line.rect)
    ]
    over = [
        f"{one.text!r} and {other.text!r} overlap"
        for (_, one, here), (_, other, there) in combinations(lines, 2)
        if min(here.intersected(there).width(), here.intersected(there).height()) >= 1
    ]
    return outside + over
