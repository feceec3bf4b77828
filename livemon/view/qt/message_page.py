"""A page of words: a title, what to do, and a quiet line at the foot."""

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.whole_words import tell_whole


class MessagePage(QWidget):
    """Shown while there is nothing to measure, or when the screen itself has failed."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._title, self._foot = "", ""
        self._lines: tuple[str, ...] = ()
        self.written: list[Written] = []

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self.update()

    def show_words(self, title: str, lines: tuple[str, ...], foot: str) -> None:
        """Show these words."""
        if (title, lines, foot) == (self._title, self._lines, self._foot):
            return
        self._title, self._lines, self._foot = title, lines, foot
        self.setAccessibleName(title)
        self.setAccessibleDescription(" ".join((*lines, foot)))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the words."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scribe = Scribe(painter, self._look.lettering)
        theme = self._look.theme
        width, height = self.width() * 0.84, float(self.height())
        left, top = self.width() * 0.08, height * 0.30
        title = height * 0.085
        scribe.line(self._title, QRectF(left, top, width, title), theme.ink, bold=True)
        line = height * 0.045
        at = top + title * 1.6
        for words in self._lines:
            scribe.line(words, QRectF(left, at, width, line), theme.ink)
            at += line * 1.5
        foot = height * 0.034
        at = height - 2 * foot
        for words in reversed(_halves(self._foot, scribe, width, foot)):
            scribe.line(words, QRectF(left, at, width, foot), theme.dim)
            at -= foot * 1.2
        painter.end()
        self.written = scribe.written
        tell_whole(self, self.written)


def _halves(words: str, scribe: Scribe, width: float, line: float) -> tuple[str, ...]:
    """Return the words as one line, or as two about as long where one would not hold them."""
    gaps = [at for at, letter in enumerate(words) if letter == " "]
    if not gaps or scribe.width(words, line) <= width:
        return (words,)
    middle = min(gaps, key=lambda at: abs(at - len(words) / 2))
    return words[:middle], words[middle + 1 :]
