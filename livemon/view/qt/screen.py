"""What fills the window: one page at a time, and what may lie over it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QStackedWidget, QWidget

from livemon.monitor.snapshot import LaneState, SessionSnapshot
from livemon.view import waiting
from livemon.view.blink import lit
from livemon.view.class_view import ClassView
from livemon.view.conduct import (
    ASIDE_S,
    NOTHING_YET,
    Conduct,
    acknowledge,
    observe,
    put_back,
    set_aside,
)
from livemon.view.conduct_words import log_rows, pace_after_conduct
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

    entered = Signal(str)
    settings_changed = Signal(object)

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
        self._conduct = NOTHING_YET
        self._t_s = 0.0
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
        self._lanes_page.focused.connect(self.choose)
        self._over = Overlays(keys, settings, self)
        self._over.settings.changed.connect(self.settings_changed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    @property
    def chosen(self) -> LaneState | None:
        """The lane that is shown or selected; None when nobody is there."""
        by_id = {lane.athlete: lane for lane in self._lanes}
        if self._chosen in by_id:
            return by_id[self._chosen]
        return self._lanes[0] if self._lanes else None

    @property
    def conduct(self) -> Conduct:
        """How people have dealt with the warnings so far."""
        return self._conduct

    @property
    def lanes(self) -> tuple[LaneState, ...]:
        """Everybody, in the order of the lane numbers."""
        return self._lanes

    @property
    def _shows_lanes(self) -> bool:
        """A class opens with its lanes, a single athlete with the Pace page."""
        return len(self._lanes) > 1 if self._wants_lanes is None else self._wants_lanes

    def use(self, settings: ViewSettings, look: Look) -> None:
        """Show everything by these settings, in these colours, from now on."""
        self._settings, self._look = settings, look
        self._class.use(settings)
        self._over.settings.show_settings(settings)
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
        self._t_s = snapshot.t_s
        self._conduct = observe(self._conduct, snapshot.lanes, snapshot.t_s)
        still_s = self._pulse.still_for(snapshot.t_s, now_s)
        if self._shows_lanes:
            lanes = self._class.model(snapshot, notices, self._conduct)
            lanes = lanes_now(lanes, snapshot, still_s, held=held)
            self._lanes_page.show_model(lanes, lane.athlete, now_s)
            self._pages.setCurrentWidget(self._lanes_page)
            self._over.settings.show_digit(self._lanes_page.digit_px)
            self._show_values(lanes.table)
            return
        model = present(lane, self._settings, notices)
        model = pace_after_conduct(model, self._conduct, snapshot.t_s)
        pace = pace_now(model, snapshot, still_s, held=held)
        may_blink = self._look.motion and pace.watch.calls
        self._pace.show_model(pace, lit=lit(pace.watch.priority, now_s, motion=may_blink))
        self._pages.setCurrentWidget(self._pace)
        self._over.settings.show_digit(self._pace.digit_px)
        self._show_values(pace.table)

    def show_message(self, title: str, lines: tuple[str, ...]) -> None:
        """Show only these words."""
        self._message.show_words(title, lines, "")
        self._pages.setCurrentWidget(self._message)

    def ask_for_entry(self) -> None:
        """Open the line for a note or a value."""
        self._over.entry.ask()
        self._place()

    def close_entry(self) -> None:
        """What was entered is kept."""
        self._over.entry.hide()
        self.setFocus()

    def refuse_entry(self, problem: str) -> None:
        """What was entered can't be; say why and let it be changed."""
        self._over.entry.refuse(problem)

    def toggle_values(self) -> None:
        """Show or hide the table of values beside the page."""
        self._over.toggle_values()
        self._place()

    def toggle_settings(self) -> None:
        """Show or hide the settings."""
        self._over.toggle_settings()
        self._place()

    def toggle_help(self) -> None:
        """Show or hide the list of keys."""
        self._over.toggle_help()
        self._place()

    def enter(self) -> None:
        """Hand over what was typed, or open the chosen athlete's own page."""
        if self._over.entry.isHidden():
            self._wants_lanes = False
        else:
            self.entered.emit(self._over.entry.text())

    def go_back(self) -> bool:
        """Close what lies over the page, or go back to all; return False at the outermost."""
        if self._over.close_topmost():
            self._place()
            self.setFocus()
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

    def choose(self, athlete: str) -> None:
        """Select this athlete's lane."""
        self._chosen = athlete

    def toggle_pin(self) -> None:
        """Keep the chosen lane on top, or no longer."""
        lane = self.chosen
        if lane is not None:
            self._class.toggle_pin(lane.athlete)

    def acknowledge(self) -> None:
        """The chosen lane's warnings have been seen."""
        lane = self.chosen
        if lane is not None:
            self._conduct = acknowledge(self._conduct, lane.athlete, self._t_s)

    def toggle_aside(self) -> None:
        """Set the chosen lane's warnings aside for a while, or put them back."""
        self._toggle_quiet(self._t_s + ASIDE_S)

    def toggle_service(self) -> None:
        """Take the chosen lane out of service until it is put back, or put it back."""
        self._toggle_quiet(None)

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

    def _toggle_quiet(self, until_s: float | None) -> None:
        lane = self.chosen
        if lane is None:
            return
        if self._conduct.is_aside(lane.athlete):
            self._conduct = put_back(self._conduct, lane.athlete)
        else:
            self._conduct = set_aside(self._conduct, lane.athlete, until_s)

    def _show_values(self, rows: tuple[tuple[str, str], ...]) -> None:
        if self._over.values.isHidden():
            return
        names = {lane.athlete: lane.name or lane.athlete for lane in self._lanes}
        self._over.values.show_rows((*rows, *log_rows(self._conduct, names)))

    def _place(self) -> None:
        self._pages.setGeometry(self._over.place(self.size()))
