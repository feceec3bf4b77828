"""A table of cells that a person can read, hear, and walk through with the arrow keys."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QIcon
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from livemon.view.bouts_numbers import Cell
from livemon.view.qt.bouts_icon import marker_icon
from livemon.view.qt.look import Look


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row; `heading` rows stand across the table and have one cell."""

    cells: tuple[Cell, ...]
    heading: bool = False
    bold: tuple[int, ...] = ()  #: columns that say something clear
    place: int | None = None  #: whose marker stands before the row


class BoutsTable(QTableWidget):
    """Read only; a dash tells its reason as a tooltip and to a screen reader."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.verticalHeader().hide()
        self.setShowGrid(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)  # Tab leaves the table; arrows move in it
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)

    def show_table(
        self,
        columns: Sequence[str],
        icons: Sequence[QIcon | None],
        rows: Sequence[TableRow],
        look: Look,
        px: int,
    ) -> None:
        """Show these rows; where the reader stands stays the same."""
        row, column = self.currentRow(), self.currentColumn()
        self.clearSpans()
        self.setColumnCount(len(columns))
        self.setRowCount(len(rows))
        for at, (name, icon) in enumerate(zip(columns, icons, strict=True)):
            header = QTableWidgetItem(name)
            header.setToolTip(name)
            if icon is not None:
                header.setIcon(icon)
            self.setHorizontalHeaderItem(at, header)
        for at, shown in enumerate(rows):
            self._write(at, shown, columns, look, px)
            self.setRowHeight(at, round(px * 1.75))
        if rows and columns and row >= 0:
            self.setCurrentCell(
                min(max(row, 0), len(rows) - 1), min(max(column, 0), len(columns) - 1)
            )

    def share_width(self) -> None:
        """Fit all columns into the width: the first as narrow as it can be, the rest alike."""
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap)
        header.setFixedHeight(2 * header.fontMetrics().height() + 14)
        for column in range(1, self.columnCount()):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Stretch)

    def _write(self, at: int, row: TableRow, columns: Sequence[str], look: Look, px: int) -> None:
        name = row.cells[0].text
        icon = QIcon() if row.place is None else marker_icon(row.place, px, look)
        for column in range(len(columns)):
            cell = row.cells[column] if column < len(row.cells) else Cell("")
            item = QTableWidgetItem(cell.text)
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            bold = row.heading or column in row.bold
            item.setFont(look.lettering.at(px, bold=bold)[0])
            dim = not cell.known or (column == 0 and not row.heading)
            item.setForeground(QColor(look.theme.dim if dim else look.theme.ink))
            item.setToolTip(cell.tip)
            item.setIcon(icon if column == 0 else QIcon())
            heard = ": ".join(part for part in (cell.text, cell.tip) if part)
            if column and not row.heading:
                heard = f"{name}, {columns[column]}: {heard}"
            item.setData(Qt.ItemDataRole.AccessibleTextRole, heard)
            self.setItem(at, column, item)
        if row.heading and len(columns) > 1:
            self.setSpan(at, 0, 1, len(columns))
