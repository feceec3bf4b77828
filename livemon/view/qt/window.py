"""The window: one timer reads the newest snapshot and hands it to the screen.

No locks and no signals from the engine: a snapshot is immutable, and reading one attribute is
enough. What people ask for goes the other way through `Commands`.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QElapsedTimer, QTimer
from PySide6.QtGui import QCloseEvent, QGuiApplication, QKeySequence, QShortcut
from PySide6.QtWidgets import QMainWindow

from livemon.errors import UsageError
from livemon.monitor.snapshot import LaneState, SessionSnapshot
from livemon.view.commands import Commands, Marks, ReplayCommands
from livemon.view.entry import read_entry
from livemon.view.keys import LIVE_KEYS, REPLAY_KEYS, Action
from livemon.view.qt.appearance import Appearance, with_other_theme
from livemon.view.qt.colours import palette
from livemon.view.qt.screen import Screen
from livemon.view.qt.sound import Sound
from livemon.view.settings import ViewSettings
from livemon.view.sounding import Sounding
from livemon.warn.priority import Priority

Latest = Callable[[], SessionSnapshot | None]

#: Data come at one to ten a second; drawing more often than this shows nothing new.
_REFRESH_MS: Final = 100
#: Files are closed and sensors let go well within this; a window that never closes is worse.
_CLOSE_LIMIT_MS: Final = 10_000
_MS_PER_S: Final = 1000


class LiveWindow(QMainWindow):
    """Shows whatever `latest` gives until it is closed.

    Args:
        latest: the newest snapshot, or None before the first.
        marks: takes what is typed; without it only notes can be.
        notices: words of the program itself ("recording", "disk full: not recording").
        chosen: told the settings whenever a person changes them.
        play: lets a warning be heard; None uses what the system has.
    """

    def __init__(
        self,
        latest: Latest,
        commands: Commands,
        settings: ViewSettings,
        *,
        replay: ReplayCommands | None = None,
        marks: Marks | None = None,
        notices: Callable[[], tuple[str, ...]] = tuple,
        chosen: Callable[[ViewSettings], None] = lambda settings: None,
        play: Callable[[Priority], None] | None = None,
    ) -> None:
        super().__init__()
        self.setWindowTitle("livemon")
        self.setMinimumSize(800, 480)
        self._latest, self._commands = latest, commands
        self._replay, self._marks = replay, marks
        self._notices = notices
        self._settings, self._chosen = settings, chosen
        self._appearance = Appearance()
        self._play = Sound().play if play is None else play
        self._sounding = Sounding()
        self._closing_ms: int | None = None
        self._failed = False
        keys = LIVE_KEYS if replay is None else REPLAY_KEYS
        self._screen = Screen(self._appearance.look(settings), settings, keys, self)
        self.setCentralWidget(self._screen)
        self._screen.setFocus()  # of the window; Tab leads into the page from there
        self._screen.entered.connect(self._keep_entry)
        self._screen.settings_changed.connect(self._choose)
        self._actions = self._listed_actions()
        for key in keys:
            for sequence in key.keys:
                shortcut = QShortcut(QKeySequence(sequence), self)
                shortcut.activated.connect(self._actions[key.action])
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._apply_settings)
        self._apply_settings()
        self._clock = QElapsedTimer()
        self._clock.start()
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.refresh)
        self._timer.start(_REFRESH_MS)

    @property
    def screen_area(self) -> Screen:
        """What fills the window."""
        return self._screen

    def refresh(self) -> None:
        """Show the newest snapshot; while closing, look whether everything is put away."""
        now_ms = self._clock.elapsed()
        if self._closing_ms is not None:
            if self._commands.finished() or now_ms - self._closing_ms > _CLOSE_LIMIT_MS:
                self._timer.stop()
                self.close()
            return
        if self._failed:
            return
        now_s = now_ms / _MS_PER_S
        sound = "sound on" if self._settings.sound else "sound off"
        self._screen.show_snapshot(
            self._latest(),
            now_s=now_s,
            notices=(*self._notices(), sound),
            held=self._replay is not None and self._replay.paused(),
        )
        if self._settings.sound:
            self._sounding, heard = self._sounding.next(self._screen.conduct, now_s)
            if heard is not None:
                self._play(heard)

    def show_failure(self, problem: str) -> None:
        """Take the numbers off the screen: frozen ones would look steady."""
        self._failed = True
        self._screen.show_message(
            "The screen has failed",
            (
                problem,
                "What is recorded is safe, and recording goes on.",
                "Close, and start again.",
            ),
        )

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Ask the session to end, and close when it has; never block, never loop."""
        if not self._timer.isActive() or self._commands.finished():
            self._timer.stop()
            event.accept()
            return
        event.ignore()
        if self._closing_ms is None:
            self._closing_ms = self._clock.elapsed()
            self._screen.show_message("Saving…", ("The session is being put away in good order.",))
            self._commands.stop()

    def _listed_actions(self) -> dict[Action, Callable[[], object]]:
        screen = self._screen
        return {
            Action.BOUT: self._toggle_bout,
            Action.BOUT_ALL: self._toggle_all_bouts,
            Action.NOTE: screen.ask_for_entry,
            Action.UNDO: self._commands.undo,
            Action.LANES: screen.open_lanes,
            Action.OPEN: screen.enter,
            Action.PIN: screen.toggle_pin,
            Action.SEEN: screen.acknowledge,
            Action.ASIDE: screen.toggle_aside,
            Action.OUT: screen.toggle_service,
            Action.BELOW: lambda: screen.select(1),
            Action.ABOVE: lambda: screen.select(-1),
            Action.NEXT: lambda: screen.step(1),
            Action.PREVIOUS: lambda: screen.step(-1),
            Action.VALUES: screen.toggle_values,
            Action.FULL_SCREEN: self._toggle_full_screen,
            Action.THEME: self._next_theme,
            Action.SOUND: self._toggle_sound,
            Action.SETTINGS: screen.toggle_settings,
            Action.HELP: screen.toggle_help,
            Action.BACK: self._back,
            Action.CLOSE: self.close,
            Action.PAUSE: self._pause,
            Action.FASTER: self._faster,
            Action.SLOWER: self._slower,
        }

    def _toggle_bout(self) -> None:
        lane = self._screen.chosen
        if lane is None:
            return
        if _working(lane):
            self._commands.end_bout(lane.athlete)
        else:
            self._commands.begin_bout(lane.athlete, "", None)

    def _toggle_all_bouts(self) -> None:
        """Begin a bout in all lanes, or end it in all if anybody still works."""
        if any(_working(lane) for lane in self._screen.lanes):
            self._commands.end_bout(None)
        elif self._screen.lanes:
            self._commands.begin_bout(None, "", None)

    def _keep_entry(self, text: str) -> None:
        lane = self._screen.chosen
        chosen = None if lane is None else lane.athlete
        try:
            self._keep(text, chosen)
        except UsageError as problem:
            self._screen.refuse_entry(str(problem))
        else:
            self._screen.close_entry()

    def _keep(self, text: str, chosen: str | None) -> None:
        if self._marks is None:
            if text:
                self._commands.note(chosen, text)
            return
        roster = tuple(lane.athlete for lane in self._screen.lanes)
        for entry in read_entry(text, roster, chosen):
            self._marks.mark(entry.athlete, entry.kind, dict(entry.entered))

    def _back(self) -> None:
        if not self._screen.go_back() and self.isFullScreen():
            self.showNormal()

    def _toggle_full_screen(self) -> None:
        if self.isFullScreen():
            self.showNormal()
        else:
            self.showFullScreen()

    def _pause(self) -> None:
        if self._replay is not None:
            self._replay.toggle_pause()

    def _faster(self) -> None:
        if self._replay is not None:
            self._replay.faster(2.0)

    def _slower(self) -> None:
        if self._replay is not None:
            self._replay.faster(0.5)

    def _next_theme(self) -> None:
        self._choose(with_other_theme(self._settings))

    def _toggle_sound(self) -> None:
        self._choose(replace(self._settings, sound=not self._settings.sound))

    def _choose(self, settings: ViewSettings) -> None:
        """Use these settings from now on, and have them remembered; let new sound be heard."""
        if settings.sound and not self._settings.sound:
            self._play(Priority.CAUTION)
        self._settings = settings
        self._apply_settings()
        self._chosen(settings)

    def _apply_settings(self) -> None:
        """Show everything anew; also called when the system's own theme changes."""
        look = self._appearance.look(self._settings)
        self.setPalette(palette(look.theme))
        self._screen.use(self._settings, look)


def _working(lane: LaneState) -> bool:
    return lane.bout is not None and not lane.bout.resting
