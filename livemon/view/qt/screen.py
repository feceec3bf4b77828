"""What fills the window: one page at a time, and what may lie over it."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QStackedWidget, QWidget

from livemon.monitor.snapshot import LaneState, SessionSnapshot
from livemon.view import waiting
from livemon.view.blink import lit
from livemon.view.class_view import ClassView
from livemon.view.keys import Key
from livemon.view.present import present
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.look import Look
from livemon.view.qt.message_page import MessagePage
from livemon.view.qt.overlays import Overlays
from livemon.view.qt.pace import PacePage
from livemon.view.settings import ViewSettings
from livemon.view.standstill import Pulse, lanes_now, pace_now


class Screen(QWidget):
    """Message, Pace and Lanes pages; which athlete is chosen, and which page is wanted."""

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
        self._class = ClassView(settings)
        self._chosen: str | None = None
        self._wants_lanes: bool | None = None  # None until somebody asks for a page
        self._lanes: tuple[LaneState, ...] = ()
        self._pages = QStackedWidget(self)
        self._message, self._pace, self._lanes_page = (
            MessagePage(look),
            PacePage(look),
            LanesPage(look),
        )
        for page in (self._message, self._pace, self._lanes_page):
            self._pages.addWidget(page)
        self._lanes_page.opened.connect(self.open_athlete)
        self._over = Overlays(keys, self)

    @property
    def chosen(self) -> LaneState | None:
        """The lane that is shown or selected; None when nobody is there."""
        by_id = {lane.athlete: lane for lane in self._lanes}
        if self._chosen in by_id:
            return by_id[self._chosen]
        return self._lanes[0] if self._lanes else None

    @property
    def _shows_lanes(self) -> bool:
        """A class opens with its lanes, a single athlete with the Pace page."""
        return len(self._lanes) > 1 if self._wants_lanes is None else self._wants_lanes

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self._message.set_look(look)
        self._pace.set_look(look)
        self._lanes_page.set_look(look)

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
        still_s = self._pulse.still_for(snapshot.t_s, now_s)
        if self._shows_lanes:
            lanes = lanes_now(self._class.model(snapshot, notices), snapshot, still_s, held=held)
            self._lanes_page.show_model(lanes, lane.athlete, now_s)
            self._pages.setCurrentWidget(self._lanes_page)
            self._show_values(lanes.table)
            return
        pace = pace_now(present(lane, self._settings, notices), snapshot, still_s, held=held)
        on = lit(pace.watch.priority, now_s, motion=self._look.motion)
        self._pace.show_model(pace, lit=on)
        self._pages.setCurrentWidget(self._pace)
        self._show_values(pace.table)

    def show_message(self, title: str, lines: tuple[str, ...]) -> None:
        """Show only these words."""
        self._message.show_words(title, lines, "")
        self._pages.setCurrentWidget(self._message)

    def ask_for_note(self) -> None:
        """Open the line for a note."""
        self._over.ask_for_note()

    def toggle_values(self) -> None:
        """Show or hide the table of values beside the page."""
        self._over.toggle_values()
        self._place()

    def toggle_help(self) -> None:
        """Show or hide the list of keys."""
        self._over.toggle_help()
        self._place()

    def enter(self) -> None:
        """Keep the note that is being written, or open the chosen athlete's own page."""
        note = self._over.take_note()
        if note is None:
            self._wants_lanes = False
            return
        self._pages.setFocus()
        if note:
            self.note_written.emit(note)

    def go_back(self) -> bool:
        """Close what lies over the page, or go back to all; return False at the outermost."""
        if self._over.close_topmost():
            self._place()
            self._pages.setFocus()
            return True
        if len(self._lanes) > 1 and not self._shows_lanes:
            self._wants_lanes = True
            return True
        return False

    def open_lanes(self) -> None:
        """Show all athletes."""
        self._wants_lanes = True

    def open_athlete(self, athlete: str) -> None:
        """Show this athlete alone."""
        self._chosen = athlete
        self._wants_lanes = False

    def toggle_pin(self) -> None:
        """Keep the chosen lane on top, or no longer."""
        lane = self.chosen
        if lane is not None:
            self._class.toggle_pin(lane.athlete)

    def select(self, by: int) -> None:
        """Choose the lane so many places below; in the table of values, the row."""
        if self._over.values.hasFocus():
            self._over.values.go(by)
            return
        lane = self.chosen
        if lane is not None and self._shows_lanes:
            self._chosen = self._class.beside(lane.athlete, by)

    def step(self, by: int) -> None:
        """Choose the next lane of the roster, or the one before."""
        lane = self.chosen
        if lane is not None:
            at = self._lanes.index(lane)
            self._chosen = self._lanes[(at + by) % len(self._lanes)].athlete

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Place the parts anew."""
        self._place()

    def _show_values(self, rows: tuple[tuple[str, str], ...]) -> None:
        if not self._over.values.isHidden():
            self._over.values.show_rows(rows)

    def _place(self) -> None:
        self._pages.setGeometry(self._over.place(self.size()))
