"""The settings of the screen, laid over the page; every change shows at once."""

from dataclasses import replace
from functools import partial
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDoubleSpinBox,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSpinBox,
    QWidget,
)

from livemon.tongue import marked, said
from livemon.view.cue import Cue
from livemon.view.legibility import legibility_words, pixel_mm
from livemon.view.settings import REASONS, THEME_WORDS, ViewSettings

#: Drawn so long, to be measured with a ruler.
_BAR_PX: Final = 400
_S_PER_MIN: Final = 60

#: What can be heard, to be tried.
_TRIES: Final = (
    (Cue.CAUTION, marked("Caution")),
    (Cue.DRAIN, marked("Drain")),
    (Cue.STEP, marked("Next step")),
)


class Ruler(QWidget):
    """A bar of known length in pixels."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFixedSize(_BAR_PX, 12)
        self.setAccessibleName(said("Bar of {pixels} pixels, to be measured", pixels=_BAR_PX))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw it in the text's colour."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self.palette().windowText().color()))
        painter.end()


class SettingsPanel(QFrame):
    """One row a setting, the reason for its default below it."""

    changed = Signal(object)
    tried = Signal(object)  #: a cue wants to be heard

    def __init__(self, settings: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._settings = settings
        self._digit_px = 0.0
        self.setFrameShape(QFrame.Shape.Box)
        self.setAutoFillBackground(True)
        self.setAccessibleName(said("Settings"))
        self._theme = QComboBox()
        for words in THEME_WORDS.values():
            self._theme.addItem(said(words))
        self._motion = QCheckBox(said("frames of unseen warnings blink"))
        self._sound = QCheckBox(said("warnings that call are heard"))
        self._speech = QCheckBox(said("spoken, too"))
        self._awake = QCheckBox(said("the screen stays on while a session is live"))
        self._awake_state = QLabel()
        self._window = QSpinBox(minimum=2, maximum=60, suffix=" min")
        self._distance = QDoubleSpinBox(minimum=0.5, maximum=20, singleStep=0.5, suffix=" m")
        self._bar = QDoubleSpinBox(minimum=20, maximum=300, suffix=" mm")
        self._battery = QSpinBox(minimum=0, maximum=100, suffix=" %")
        self._read = QLabel()
        rows = QFormLayout(self)
        rows.setContentsMargins(28, 22, 28, 22)
        for label, field, key in (
            (said("Theme"), self._theme, "theme"),
            (said("Motion"), self._motion, "motion"),
            (said("Sound"), self._sound, "sound"),
            (said("Speech"), self._speech, "speech"),
            (said("Screen"), self._awake, "awake"),
            (said("Strip chart shows"), self._window, "window_s"),
            (said("Read from"), self._distance, "distance_m"),
            (said("This bar is"), self._bar, "pixel_mm"),
            (said("Battery is low from"), self._battery, "battery_low_pct"),
        ):
            field.setAccessibleName(label)
            field.setAccessibleDescription(said(REASONS[key]))
            rows.addRow(label, field)
            if key == "pixel_mm":
                rows.addRow("", Ruler())
            rows.addRow("", QLabel(said(REASONS[key])))
            if key == "sound":
                rows.addRow("", self._tries())
            if key == "awake":
                rows.addRow("", self._awake_state)
                self._awake_state.hide()
        rows.addRow(said("Heart rate is seen at"), self._read)
        self.show_settings(settings)
        self._theme.currentTextChanged.connect(self._tell)
        self._motion.toggled.connect(self._tell)
        for box in (self._sound, self._speech, self._awake):
            box.toggled.connect(self._tell)
        for number in (self._window, self._distance, self._battery):
            number.valueChanged.connect(self._tell)
        self._bar.valueChanged.connect(self._tell_pixel)

    def show_settings(self, settings: ViewSettings) -> None:
        """Show these values without telling anybody."""
        self._settings = settings
        fields = (
            self._theme, self._motion, self._sound, self._speech, self._awake, self._window,
            self._distance, self._bar, self._battery,
        )  # fmt: skip
        for field in fields:
            field.blockSignals(True)
        self._theme.setCurrentIndex(list(THEME_WORDS).index(settings.theme))
        self._motion.setChecked(settings.motion)
        self._sound.setChecked(settings.sound)
        self._speech.setChecked(settings.speech)
        self._awake.setChecked(settings.awake)
        self._window.setValue(round(settings.window_s / _S_PER_MIN))
        self._distance.setValue(settings.distance_m)
        self._bar.setValue(self._pixel_mm() * _BAR_PX)
        self._battery.setValue(settings.battery_low_pct)
        for field in fields:
            field.blockSignals(False)
        self._say()

    def show_digit(self, height_px: float) -> None:
        """Say from how far digits of this height can be read."""
        if height_px != self._digit_px:
            self._digit_px = height_px
            self._say()

    def show_awake(self, words: str) -> None:
        """Say why the screen may go dark all the same; empty if it doesn't."""
        if words != self._awake_state.text():
            self._awake_state.setText(words)
            self._awake_state.setVisible(bool(words))

    def _tries(self) -> QWidget:
        """Return a button for each cue, to hear it before it matters."""
        row = QWidget()
        buttons = QHBoxLayout(row)
        buttons.setContentsMargins(0, 0, 0, 0)
        for cue, words in _TRIES:
            button = QPushButton(said(words))
            button.setAccessibleName(said("Hear how it sounds: {cue}", cue=said(words)))
            button.clicked.connect(partial(self.tried.emit, cue))
            buttons.addWidget(button)
        buttons.addStretch()
        return row

    def _pixel_mm(self) -> float:
        if self._settings.pixel_mm is not None:
            return self._settings.pixel_mm
        return pixel_mm(self.screen().physicalDotsPerInch())  # of Qt's pixels, whatever the scale

    def _say(self) -> None:
        seen = legibility_words(self._digit_px, self._pixel_mm(), self._settings.distance_m)
        self._read.setText(seen if self._digit_px else "–")

    def _tell(self) -> None:
        self._settings = replace(
            self._settings,
            theme=list(THEME_WORDS)[self._theme.currentIndex()],
            motion=self._motion.isChecked(),
            sound=self._sound.isChecked(),
            speech=self._speech.isChecked(),
            awake=self._awake.isChecked(),
            window_s=float(self._window.value() * _S_PER_MIN),
            distance_m=self._distance.value(),
            battery_low_pct=self._battery.value(),
        )
        self._say()
        self.changed.emit(self._settings)

    def _tell_pixel(self) -> None:
        self._settings = replace(self._settings, pixel_mm=self._bar.value() / _BAR_PX)
        self._tell()
