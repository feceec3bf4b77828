"""Findings as text that can be read, heard, selected and scrolled."""

from collections.abc import Sequence

from PySide6.QtGui import QColor, QTextBlockFormat, QTextCharFormat, QTextCursor
from PySide6.QtWidgets import QFrame, QTextBrowser

from livemon.view.bouts_findings import Paragraph, Weight
from livemon.view.qt.look import Look


class FindingsText(QTextBrowser):
    """Paragraphs, set as text and never as markup: names come from people."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)

    def show_paragraphs(self, paragraphs: Sequence[Paragraph], look: Look, px: int) -> None:
        """Show these."""
        self.clear()
        cursor = QTextCursor(self.document())
        for at, paragraph in enumerate(paragraphs):
            block = QTextBlockFormat()
            heading = paragraph.weight is Weight.HEADING
            block.setTopMargin(px * 0.9 if heading and at else px * 0.25)
            letters = QTextCharFormat()
            letters.setFont(look.lettering.at(px, bold=heading)[0])
            dim = paragraph.weight is Weight.DIM
            letters.setForeground(QColor(look.theme.dim if dim else look.theme.ink))
            if at:
                cursor.insertBlock(block)
            else:
                cursor.setBlockFormat(block)
            cursor.insertText(paragraph.text, letters)
        self.moveCursor(QTextCursor.MoveOperation.Start)
