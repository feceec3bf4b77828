"""The list that bouts or sites are picked from: checked by click or Space."""

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QListWidget, QListWidgetItem


class PickList(QListWidget):
    """Items to check; tells when the choice of a person, not of the program, has changed."""

    picked = Signal()

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setUniformItemSizes(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.itemChanged.connect(lambda _: self.picked.emit())

    def offer(
        self,
        rows: Sequence[tuple[str, str]],
        icons: Sequence[QIcon | None],
        checked: Sequence[bool],
        px: int,
    ) -> None:
        """Show rows of text and what is heard instead; the current one stays."""
        self.blockSignals(True)
        while self.count() > len(rows):
            self.takeItem(self.count() - 1)
        while self.count() < len(rows):
            self.addItem(QListWidgetItem())
        self.setIconSize(QSize(px, px))
        for at, ((text, heard), icon, on) in enumerate(zip(rows, icons, checked, strict=True)):
            item = self.item(at)
            item.setText(text)
            item.setToolTip(heard)
            item.setIcon(icon or QIcon())
            item.setData(Qt.ItemDataRole.AccessibleTextRole, heard)
            item.setFlags(
                Qt.ItemFlag.ItemIsEnabled
                | Qt.ItemFlag.ItemIsSelectable
                | Qt.ItemFlag.ItemIsUserCheckable
            )
            item.setCheckState(Qt.CheckState.Checked if on else Qt.CheckState.Unchecked)
        if self.currentRow() < 0 and rows:
            self.setCurrentRow(0)
        self.blockSignals(False)

    def checked(self) -> tuple[int, ...]:
        """Return which rows are checked."""
        return tuple(
            at for at in range(self.count())
            if self.item(at).checkState() is Qt.CheckState.Checked
        )  # fmt: skip
