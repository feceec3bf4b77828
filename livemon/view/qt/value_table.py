"""Every value as a plain table, since a picture says nothing to a screen reader."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from livemon.tongue import said


class ValueTable(QTableWidget):
    """Two columns: what, and how much. Cells are changed in place, never piled up."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(0, 2, parent)
        self.setHorizontalHeaderLabels([said("What"), said("Now")])
        self.verticalHeader().hide()
        self.horizontalHeader().setStretchLastSection(True)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setTabKeyNavigation(False)  # Tab leaves the table; arrows move in it
        self.setWordWrap(True)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.setAccessibleName(said("Table of all values"))
        self._rows: tuple[tuple[str, str], ...] = ()

    def show_rows(self, rows: tuple[tuple[str, str], ...]) -> None:
        """Show these rows, touching only the cells that differ."""
        if rows == self._rows:
            return
        if len(rows) != len(self._rows):
            self.setRowCount(len(rows))
        for at, row in enumerate(rows):
            before = self._rows[at] if at < len(self._rows) else ("", "")
            for column, (text, old) in enumerate(zip(row, before, strict=True)):
                if text != old or self.item(at, column) is None:
                    self._write(at, column, text)
        self._rows = rows

    def go(self, by: int) -> None:
        """Move to the row so many places below."""
        row = min(max(self.currentRow() + by, 0), self.rowCount() - 1)
        self.setCurrentCell(row, 0)

    def _write(self, row: int, column: int, text: str) -> None:
        cell = self.item(row, column)
        if cell is None:
            cell = QTableWidgetItem()
            cell.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            self.setItem(row, column, cell)
        cell.setText(text)
