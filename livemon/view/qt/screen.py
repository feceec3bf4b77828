"""What fills the window: the pages, and what may lie over them (help, values, a note)."""

from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLineEdit, QStackedWidget, QWidget

from livemon.monitor.snapshot import LaneState, SessionSnapshot
from livemon.view import waiting
from livemon.view.blink import lit
from livemon.view.keys import Key
from livemon.view.model import PaceModel
from livemon.view.present import present
from livemon.view.qt.help_panel import HelpPanel
from livemon.view.qt.look import Look
from livemon.view.qt.message_page import MessagePage
from livemon.view.qt.pace import PacePage
from livemon.view.qt.value_table import ValueTable
from livemon.view.settings import ViewSettings
from livemon.view.standstill import LIMIT_S, Pulse, ended, paused, standing_still

_TABLE_SHARE: Final = 0.34
_NOTE_PX: Final = 40


class Screen(QWidget):
    """Pages in a stack; at most one thing over them at a time."""

    note_written = Signal(str)

    def __init__(
        self,
        look: Look,
        settings: ViewSettings,
        keys: tuple[Key, ...],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._look, self._settings = look, settings
        self._pulse = Pulse()
        self._chosen: str | None = None
        self._lanes: tuple[LaneState, ...] = ()
        self._pages = QStackedWidget(self)
        self._message = MessagePage(look)
        self._pace = PacePage(look)
        self._pages.addWidget(self._message)
        self._pages.addWidget(self._pace)
        self._values = ValueTable(self)
        self._help = HelpPanel(keys, self)
        self._note = QLineEdit(self)
        self._note.setPlaceholderText("Note for this moment; Enter keeps it, Esc drops it")
        self._note.setAccessibleName("Note")
        self._note.returnPressed.connect(self._note_done)
        for over in (self._values, self._help, self._note):
            over.hide()

    @property
    def chosen(self) -> LaneState | None:
        """The lane that is shown; None when nobody is."""
        by_id = {lane.athlete: lane for lane in self._lanes}
        if self._chosen in by_id:
            return by_id[self._chosen]
        return self._lanes[0] if self._lanes else None

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self._message.set_look(look)
        self._pace.set_look(look)

    def show_snapshot(
        self,
        snapshot: SessionSnapshot | None,
        *,
        now_s: float,
        notices: tuple[str, ...],
        held: bool,
    ) -> None:
        """Show everything that is known; `now_s` is the viewer's own time."""
        self._lanes = () if snapshot is None else snapshot.lanes
        lane = self.chosen
        if snapshot is None or lane is None:
            self._message.show_words(waiting.TITLE, waiting.STEPS, waiting.CAUTION)
            self._pages.setCurrentWidget(self._message)
            return
        model = present(lane, self._settings, notices)
        still_s = self._pulse.still_for(snapshot.t_s, now_s)
        self._show_pace(_as_it_is(model, snapshot, still_s, held=held), now_s)

    def show_message(self, title: str, lines: tuple[str, ...]) -> None:
        """Show only these words."""
        self._message.show_words(title, lines, "")
        self._pages.setCurrentWidget(self._message)

    def ask_for_note(self) -> None:
        """Open the line for a note."""
        self._note.clear()
        self._note.show()
        self._note.raise_()
        self._note.setFocus()

    def toggle_values(self) -> None:
        """Show or hide the table of values beside the page."""
        self._values.setVisible(self._values.isHidden())
        if not self._values.isHidden():
            self._values.setFocus()
        self._place()

    def toggle_help(self) -> None:
        """Show or hide the list of keys."""
        self._help.setVisible(self._help.isHidden())
        self._help.raise_()
        self._place()
        if not self._help.isHidden():
            self._help.setFocus()

    def close_topmost(self) -> bool:
        """Close what lies over the page; return False when nothing did."""
        for over in (self._note, self._help, self._values):
            if not over.isHidden():
                over.hide()
                self._place()
                self._pages.setFocus()
                return True
        return False

    def next_athlete(self) -> None:
        """Show the next lane."""
        self._step(1)

    def previous_athlete(self) -> None:
        """Show the lane before."""
        self._step(-1)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Place the parts anew."""
        self._place()

    def _show_pace(self, model: PaceModel, now_s: float) -> None:
        on = lit(model.watch.priority, now_s, motion=self._look.motion)
        self._pace.show_model(model, lit=on)
        self._pages.setCurrentWidget(self._pace)
        if not self._values.isHidden():
            self._values.show_rows(model.table)

    def _step(self, by: int) -> None:
        lane = self.chosen
        if lane is not None:
            at = self._lanes.index(lane)
            self._chosen = self._lanes[(at + by) % len(self._lanes)].athlete

    def _note_done(self) -> None:
        text = self._note.text().strip()
        self._note.hide()
        self._pages.setFocus()
        if text:
            self.note_written.emit(text)

    def _place(self) -> None:
        width, height = self.width(), self.height()
        table = 0 if self._values.isHidden() else int(width * _TABLE_SHARE)
        self._pages.setGeometry(0, 0, width - table, height)
        self._values.setGeometry(width - table, 0, table, height)
        size = self._help.sizeHint().boundedTo(self.size())
        self._help.setGeometry(
            (width - size.width()) // 2, (height - size.height()) // 2, size.width(), size.height()
        )
        self._note.setGeometry(width // 5, height - 2 * _NOTE_PX, width * 3 // 5, _NOTE_PX)


def _as_it_is(
    model: PaceModel, snapshot: SessionSnapshot, still_s: float, *, held: bool
) -> PaceModel:
    """Say when the numbers are no longer those of this moment."""
    if snapshot.ended:
        return ended(model)
    if held:
        return paused(model)
    if still_s > LIMIT_S:
        return standing_still(model, still_s)
    return model
