"""The window of the Bouts page: reads the newest analysis by a timer, keeps the look, asks."""

from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QGuiApplication, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QHBoxLayout,
    QProgressBar,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from livemon.errors import UsageError
from livemon.tongue import said
from livemon.view.bouts_commands import BoutsCommands, BoutsState
from livemon.view.bouts_entry import entry_of
from livemon.view.bouts_source import BoutKey, placed_bouts
from livemon.view.qt.appearance import Appearance, with_other_theme
from livemon.view.qt.ask_place import ask_place
from livemon.view.qt.bouts_form import BoutForm
from livemon.view.qt.bouts_page import BoutsPage
from livemon.view.qt.bouts_style import bouts_style
from livemon.view.qt.colours import palette
from livemon.view.qt.kit_parts import KitButton, KitChoice, Words, heading
from livemon.view.settings import ViewSettings

#: Text grows with the window: 14 px on a laptop of 768 lines, 19 px on one of 1080.
_LINES_A_PIXEL: Final = 55
_LEAST_PX: Final = 12
_MOST_PX: Final = 24
_LOOK_EVERY_MS: Final = 100
_NAME: Final = 14  #: width of the choice of athletes, in sizes of the text


class BoutsWindow(QWidget):
    """Shows what the commands have read so far."""

    def __init__(self, commands: BoutsCommands, settings: ViewSettings) -> None:
        super().__init__()
        self.setObjectName("bouts")
        self.setWindowTitle(said("Bouts"))
        self._commands, self._settings = commands, settings
        self._appearance = Appearance()
        self._state: BoutsState | None = None
        self._px = 14
        self.page = BoutsPage(self._appearance.look(settings), self._px)
        self.title, self.doing, self.trouble = (
            heading(said("Bouts"), "title"),
            Words("dim"),
            Words(),
        )
        self.title.setTextFormat(Qt.TextFormat.PlainText)  # a name is no markup
        self.progress = QProgressBar()
        self.progress.setTextVisible(False)
        self.progress.setAccessibleName(said("Recordings read"))
        self.theme = KitButton(said("Dark or light"))
        self.athlete = KitChoice(said("Athlete"), typed=False)
        self.athlete.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.athlete.hide()
        self._place()
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.refresh)
        self._timer.start(_LOOK_EVERY_MS)
        self.theme.clicked.connect(self._other_theme)
        self.athlete.textActivated.connect(self._commands.choose)
        self.page.correction.connect(self._ask_correction)
        self.page.saving.connect(self._ask_file)
        self.page.exporting.connect(self._ask_export)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._dress)
        for keys, act in (
            (QKeySequence.StandardKey.Save, self._ask_file),
            (QKeySequence("Ctrl+E"), self.page.export.click),
            (QKeySequence.StandardKey.Close, self.close),
            (QKeySequence("F6"), self._other_theme),
        ):
            QShortcut(QKeySequence(keys), self).activated.connect(act)
        self._dress()
        self.page.bouts.setFocus()

    def refresh(self) -> None:
        """Show the newest state, if it is another."""
        state = self._commands.latest()
        if state is self._state:
            return
        before, self._state = self._state, state
        self.doing.say(state.doing)
        self.progress.setVisible(bool(state.doing))
        self.progress.setRange(0, 100 * max(state.total, 1))
        self.progress.setValue(round(100 * (state.done + state.share)))
        self.trouble.say("\n".join(filter(None, (*state.troubles, state.said))))
        self.athlete.offer(state.athletes)
        self.athlete.setVisible(len(state.athletes) > 1)
        if before is None or before.athlete != state.athlete:
            self.athlete.put(state.athlete)
        if before is None or before.sessions is not state.sessions:
            self.page.show_sessions(state.sessions)
        self.page.nothing.setVisible(not state.doing and bool(self.page.model.note))
        alone = len(state.athletes) < 2
        self.title.setText((alone and (self.page.model.athlete or state.athlete)) or said("Bouts"))

    def save(self, path: Path) -> None:
        """Write the picture that is seen; say so, or why not."""
        try:
            self.page.canvas().save(path, said("Bouts of {name}", name=self.page.model.athlete))
        except UsageError as error:
            self.trouble.say(str(error))
            return
        self.trouble.say(said("Saved {file}", file=path.name))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Set the text to the window's size."""
        px = min(max(round(self.height() / _LINES_A_PIXEL), _LEAST_PX), _MOST_PX)
        if px != self._px:
            self._px = px
            self._dress()

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Stop reading before the window goes."""
        self._timer.stop()
        self._commands.stop()
        super().closeEvent(event)

    def _dress(self) -> None:
        look = self._appearance.look(self._settings)
        self.setPalette(palette(look.theme))
        self.setStyleSheet(bouts_style(look.theme, self._px))
        self.athlete.setFixedWidth(self._px * _NAME)
        self.page.dress(look, self._px)

    def _other_theme(self) -> None:
        self._settings = with_other_theme(self._settings)
        self._dress()

    def _ask_file(self) -> None:
        ask_place(
            self,
            said("Save the picture"),
            "bouts.svg",
            (said("Pictures") + " (*.svg *.png)",),
            self.save,
        )

    def export(self, key: BoutKey, path: Path) -> None:
        """Have the bout's recording written there; say why not."""
        try:
            self._commands.export(key, path)
        except UsageError as error:
            self.trouble.say(str(error))

    def _ask_export(self, key: BoutKey) -> None:
        ask_place(
            self,
            said("Export what was recorded, without names"),
            "recording.csv",
            (said("Tables") + " (*.csv)", "Parquet (*.parquet)", "SNIRF (*.snirf)"),
            lambda path: self.export(key, path),
            asks_before_replacing=False,  # nothing is written over at all
        )

    def correction_form(self, key: BoutKey) -> BoutForm | None:
        """Return the form for one bout; None if it is gone."""
        placed = (
            [p for p in placed_bouts(self._state.sessions) if p.key == key] if self._state else []
        )
        if not placed:
            return None
        return BoutForm(
            said("Bout {label}", label=placed[0].label), entry_of(placed[0]),
            lambda entry: self._commands.correct(key, entry), self,
        )  # fmt: skip

    def _ask_correction(self, key: BoutKey) -> None:
        form = self.correction_form(key)
        if form is not None:
            form.finished.connect(form.deleteLater)
            form.open()  # not exec: a live session may be shown beside this window

    def _place(self) -> None:
        above = QHBoxLayout()
        above.setSpacing(12)
        above.addWidget(self.title)
        above.addWidget(self.athlete)
        above.addWidget(self.doing)
        above.addWidget(self.progress)
        above.addWidget(self.trouble, 1)
        above.addStretch(1)
        above.addWidget(self.page.whole)
        above.addWidget(self.page.save)
        above.addWidget(self.page.export)
        above.addWidget(self.theme)
        inside = QVBoxLayout(self)
        inside.setContentsMargins(24, 12, 24, 16)
        inside.setSpacing(10)
        inside.addLayout(above)
        inside.addWidget(self.page, 1)
