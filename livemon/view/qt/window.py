"""The window: one timer reads the newest snapshot and hands it to the screen.

No locks and no signals from the engine: a snapshot is immutable, and reading one attribute is
enough. What people ask for goes the other way through `Commands`.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QElapsedTimer, QTimer
from PySide6.QtGui import QCloseEvent, QGuiApplication
from PySide6.QtWidgets import QMainWindow

from livemon.errors import UsageError
from livemon.monitor.snapshot import SessionSnapshot
from livemon.reworded.refused import refusal_said
from livemon.view.commands import Commands, Marks, ReplayCommands
from livemon.view.cue import Cue
from livemon.view.handling import Handling
from livemon.view.invitation import InvitationModel
from livemon.view.keys import LIVE_KEYS, REPLAY_KEYS, Action
from livemon.view.kit_commands import KitCommands
from livemon.view.plan_commands import PlanCommands
from livemon.view.qt.appearance import Appearance, with_other_theme
from livemon.view.qt.bouts_stand import BoutsStand, OpenBouts
from livemon.view.qt.colours import palette
from livemon.view.qt.hearing import Hearing
from livemon.view.qt.invitation_stand import InvitationStand
from livemon.view.qt.kit_stand import ON_KIT, KitStand
from livemon.view.qt.plan_stand import PlanStand
from livemon.view.qt.screen import Screen
from livemon.view.qt.shortcuts import Shortcuts
from livemon.view.qt.sound import Sound
from livemon.view.qt.wakefulness import Wakefulness
from livemon.view.requests import Requests
from livemon.view.settings import ViewSettings
from livemon.view.viewer import Viewer

Latest = Callable[[], SessionSnapshot | None]

#: Data come at one to ten a second; drawing more often than this shows nothing new.
_REFRESH_MS: Final = 100
#: Files are closed and sensors let go well within this; a window that never closes is worse.
_CLOSE_LIMIT_MS: Final = 10_000
_MS_PER_S: Final = 1000

#: Keys that mean the same over every page and form.
_ALWAYS: Final = ON_KIT | {Action.PLAN, Action.JOIN}


def _nobody(handling: Handling) -> None:
    """Tell nobody how warnings were dealt with: nothing is written down."""


class LiveWindow(QMainWindow):
    """Shows whatever `latest` gives until it is closed.

    Args:
        latest: the newest snapshot, or None before the first.
        marks: takes what is typed; without it only notes can be.
        kit: looks after the sensors; without it there is no Kit page.
        plans: has plans to choose from; without it none can be chosen.
        bouts: opens the recording for the Bouts page; without it there is none to open.
        invitation: how relays join; without it they can't.
        notices: words of the program itself ("recording", "disk full: not recording").
        chosen: told the settings whenever a person changes them.
        handled: told how somebody dealt with warnings.
        awake: keeps the screen on, or no longer; returns why it may go dark all the same.
        play: lets a cue be heard; None uses what the system has.
        say: speaks a sentence; None uses what the system has.
    """

    def __init__(
        self,
        latest: Latest,
        commands: Commands,
        settings: ViewSettings,
        *,
        replay: ReplayCommands | None = None,
        marks: Marks | None = None,
        kit: KitCommands | None = None,
        plans: PlanCommands | None = None,
        bouts: OpenBouts | None = None,
        invitation: Callable[[], InvitationModel] | None = None,
        notices: Callable[[], tuple[str, ...]] = tuple,
        chosen: Callable[[ViewSettings], None] = lambda settings: None,
        handled: Callable[[Handling], None] | None = None,
        awake: Callable[[bool], str] | None = None,
        play: Callable[[Cue], None] | None = None,
        say: Callable[[str], None] | None = None,
    ) -> None:
        super().__init__()
        self.setWindowTitle("livemon")
        self.setMinimumSize(800, 480)
        self._latest, self._commands, self._notices = latest, commands, notices
        self._settings, self._chosen = settings, chosen
        self._viewer = Viewer(settings, handled or _nobody)
        self._requests = Requests(self._viewer, commands, marks, replay)
        self._appearance = Appearance()
        self._hearing = Hearing(play or Sound().play, say)
        self._closing_ms: int | None = None
        self._failed = False
        listed = LIVE_KEYS if replay is None else REPLAY_KEYS
        needed = {Action.KIT: kit, Action.PLAN: plans, Action.BOUTS: bouts, Action.JOIN: invitation}
        keys = tuple(key for key in listed if needed.get(key.action, self) is not None)
        look = self._appearance.look(settings)
        self._screen = Screen(look, settings, keys, self)
        self._wakefulness = Wakefulness(awake, self._screen.over.settings)
        self._kit = None if kit is None else KitStand(kit, look, self._screen)
        self._plans = None if plans is None else PlanStand(plans, self._viewer, self._screen)
        self._bouts = None if bouts is None else BoutsStand(bouts)
        self._join = None if invitation is None else InvitationStand(invitation, self._screen)
        self.setCentralWidget(self._screen)
        self._screen.setFocus()  # of the window; Tab leads into the page from there
        self._screen.opened.connect(self._viewer.open_athlete)
        self._screen.focused.connect(self._viewer.choose)
        self._screen.over.settings.changed.connect(self._choose)
        self._screen.over.settings.tried.connect(self._try_out)
        actions = self._listed_actions()
        self._shortcuts = Shortcuts(
            keys, self, do=lambda action: actions[action](), knows=self._knows
        )
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._apply_settings)
        self._apply_settings()
        self._clock = QElapsedTimer()
        self._clock.start()
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.refresh)
        self._timer.start(_REFRESH_MS)

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
        snapshot = self._latest()
        model = self._viewer.look(
            snapshot,
            now_s=now_s,
            notices=(
                self._viewer.sound_words(),  # first, since a long line loses its end
                *self._notices(),
                *self._hearing.troubles(self._settings),
                *self._wakefulness.notices(self._settings, now_s),
            ),
            held=self._requests.held,
        )
        if self._kit is None or not self._kit.show(snapshot, self._settings):
            chosen = self._viewer.chosen
            self._screen.show_model(
                model,
                selected=None if chosen is None else chosen.athlete,
                log=self._viewer.log,
                now_s=now_s,
            )
        if self._plans is not None:
            self._plans.refresh()
        if self._join is not None:
            self._join.refresh()
        self._shortcuts.give_way()
        self._hearing.look(self._viewer, self._settings, now_s)

    def show_failure(self, problem: str) -> None:
        """Take the numbers off the screen: frozen ones would look steady."""
        self._failed = True
        self._screen.show_failure(problem)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Ask the session to end, and close when it has; never block, never loop."""
        if self._bouts is not None:
            self._bouts.close()
        if not self._timer.isActive() or self._commands.finished():
            self._timer.stop()
            event.accept()
            return
        event.ignore()
        if self._closing_ms is None:
            self._closing_ms = self._clock.elapsed()
            self._screen.show_saving()
            self._commands.stop()

    def _knows(self, action: Action) -> bool:
        """Whether a key means that now: forms and the Kit page have most keys for themselves."""
        page = self._kit is None or not self._kit.open
        return action in _ALWAYS or (page and not self._screen.over.form_open)

    def _listed_actions(self) -> dict[Action, Callable[[], object]]:
        viewer, requests, over = self._viewer, self._requests, self._screen.over
        return {
            Action.BOUT: requests.toggle_bout,
            Action.BOUT_ALL: requests.toggle_all_bouts,
            Action.NOTE: over.ask,
            Action.UNDO: self._commands.undo,
            **({} if self._kit is None else {Action.KIT: self._kit.toggle}),
            **({} if self._plans is None else {Action.PLAN: self._plans.toggle}),
            **({} if self._join is None else {Action.JOIN: self._join.toggle}),
            Action.BOUTS: self._open_bouts,
            Action.LANES: viewer.open_lanes,
            Action.OPEN: self._enter,
            Action.PIN: viewer.toggle_pin,
            Action.SEEN: viewer.acknowledge,
            Action.ASIDE: viewer.toggle_aside,
            Action.OUT: viewer.toggle_service,
            Action.BELOW: lambda: self._move(1),
            Action.ABOVE: lambda: self._move(-1),
            Action.NEXT: lambda: viewer.step(1),
            Action.PREVIOUS: lambda: viewer.step(-1),
            Action.VALUES: over.toggle_values,
            Action.FULL_SCREEN: self._toggle_full_screen,
            Action.THEME: self._next_theme,
            Action.SOUND: self._toggle_sound,
            Action.MUTE: viewer.toggle_mute,
            Action.SETTINGS: over.toggle_settings,
            Action.HELP: over.toggle_help,
            Action.BACK: self._back,
            Action.CLOSE: self.close,
            Action.PAUSE: requests.toggle_pause,
            Action.FASTER: requests.faster,
            Action.SLOWER: requests.slower,
        }

    def _enter(self) -> None:
        """Keep what was typed, or open the chosen athlete's own page."""
        entry = self._screen.over.entry
        if entry.isHidden():
            self._viewer.open_pace()
            return
        try:
            self._requests.keep(entry.text())
        except UsageError as problem:
            entry.refuse(refusal_said(str(problem)))
        else:
            self._screen.over.close(entry)

    def _move(self, by: int) -> None:
        """Choose the lane below or above; in the table of values, the row."""
        values = self._screen.over.values
        if values.hasFocus():
            values.go(by)
        else:
            self._viewer.select(by)

    def _open_bouts(self) -> None:
        if self._bouts is not None:
            self._bouts.open(self._settings, self)

    def _back(self) -> None:
        if self._screen.over.close_topmost() or self._leave_kit() or self._viewer.go_back():
            return
        if self.isFullScreen():
            self.showNormal()

    def _leave_kit(self) -> bool:
        return self._kit is not None and self._kit.leave()

    def _toggle_full_screen(self) -> None:
        if self.isFullScreen():
            self.showNormal()
        else:
            self.showFullScreen()

    def _next_theme(self) -> None:
        self._choose(with_other_theme(self._settings))

    def _toggle_sound(self) -> None:
        self._choose(replace(self._settings, sound=not self._settings.sound))

    def _choose(self, settings: ViewSettings) -> None:
        """Use these settings from now on, and have them remembered; let new sound be heard."""
        if settings.sound and not self._settings.sound:
            self._hearing.try_out(Cue.CAUTION, settings)
        self._settings = settings
        self._apply_settings()
        self._chosen(settings)

    def _try_out(self, cue: Cue) -> None:
        self._hearing.try_out(cue, self._settings)

    def _apply_settings(self) -> None:
        """Show everything anew; also called when the system's own theme changes."""
        look = self._appearance.look(self._settings)
        self.setPalette(palette(look.theme))
        self._viewer.use(self._settings)
        self._screen.use(self._settings, look)
        if self._kit is not None:
            self._kit.set_look(look)
