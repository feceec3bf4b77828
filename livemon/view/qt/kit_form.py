"""The chosen sensor: who wears it and where, what is wrong with it, and what can be done."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QFileDialog,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from livemon.errors import UsageError
from livemon.view.kit_commands import KitCommands
from livemon.view.kit_entry import SITES, named, read_band
from livemon.view.kit_facts import STRAP
from livemon.view.kit_model import ChoiceModel, KitModel, NearbyModel, WornModel
from livemon.view.qt.kit_parts import KitButton, KitChoice, Words, heading, inside, labelled

_STRAP: Final = "heart-rate strap"
_OXIMETER: Final = "oximeter, "
_NOTHING: Final = (
    "Choose a sensor in one of the lists: with the mouse, or with Tab and the arrow keys."
)
Chosen = NearbyModel | WornModel | None


def ask_file() -> str:
    """Ask for an adapter file; empty if nobody chose one."""
    return QFileDialog.getOpenFileName(None, "Adapter file", "", "Adapters (*.toml)")[0]


class KitForm(QFrame):
    """Shows one sensor, and tells `commands` what is wanted of it."""

    done = Signal()  #: a wish went out

    def __init__(self, commands: KitCommands, ask: Callable[[], str] = ask_file) -> None:
        super().__init__()
        self.setObjectName("card")
        self._commands, self._ask = commands, ask
        self._model: KitModel | None = None
        self._chosen: Chosen = None
        self._wishes = 0
        self._title, self._hint = heading(""), Words()
        self._problem = Words()
        self.who = KitChoice("Worn by", typed=True)
        self.band = QLineEdit()
        self.band.setPlaceholderText("as 142–154, or empty")
        self.band.setAccessibleName("Heart rate to hold, bpm")
        self.reading = KitChoice("Read as", typed=False)
        self.site = KitChoice("Muscle", typed=True)
        self.site.offer(SITES)
        self.site.put("")
        self.use = KitButton("Use it", main=True)
        self.off = KitButton("Take off")
        self.again = KitButton("Try again")
        self._choices = QVBoxLayout()
        self._choosers: list[KitButton] = []
        self._offered: tuple[ChoiceModel, ...] = ()
        add = KitButton("Add an adapter file…")
        self._place(add)
        #: Where Tab leads, one after the other.
        self.stops: tuple[QWidget, ...] = (
            self.who, self.band, self.reading, self.site, add, self.use, self.off, self.again,
        )  # fmt: skip
        self.who.currentTextChanged.connect(self._choose_band)
        self.reading.currentTextChanged.connect(self._arrange)
        self.use.clicked.connect(self._use)
        self.off.clicked.connect(self._take_off)
        self.again.clicked.connect(self._retry)
        self.band.returnPressed.connect(self._use)
        for typed in (self.who, self.site):
            line = typed.lineEdit()
            assert line is not None
            line.returnPressed.connect(self._use)
        self._hold_places()

    def _hold_places(self) -> None:
        """Say in each empty field what may stand there."""
        for typed, example in ((self.who, "a name"), (self.site, "as left thigh")):
            line = typed.lineEdit()
            assert line is not None
            line.setPlaceholderText(example)

    def _place(self, add: KitButton) -> None:
        add.clicked.connect(self._add_adapter)
        rows = inside(self)
        rows.addWidget(self._title)
        rows.addWidget(self._hint)
        rows.addLayout(self._choices)
        grid = QGridLayout()
        grid.setColumnStretch(1, 1)
        grid.setHorizontalSpacing(14)
        fields = (
            ("Worn by", self.who),
            ("Hold, bpm", self.band),
            ("Read as", self.reading),
            ("Muscle", self.site),
        )
        for at, (label, field) in enumerate(fields):
            grid.addWidget(labelled(label, field), at, 0)
            grid.addWidget(field, at, 1)
        grid.addWidget(add, 4, 1)
        rows.addLayout(grid)
        rows.addWidget(self._problem)
        buttons = QHBoxLayout()
        for button in (self.use, self.off, self.again):
            buttons.addWidget(button)
        buttons.addStretch(1)
        rows.addLayout(buttons)

    def show_model(self, model: KitModel, chosen: Chosen) -> None:
        """Show the chosen sensor; what is being typed stays while it is the same one."""
        before, self._chosen, self._model = self._chosen, chosen, model
        self.who.offer(tuple(one.name for one in (*model.athletes, *model.known)))
        self.reading.offer((_STRAP, *(f"{_OXIMETER}{name}" for name in model.adapters)))
        if _key(before) != _key(chosen):
            self._fill(chosen)
        self._say(chosen)
        self._arrange()
        if model.wishes != self._wishes and model.outcome:
            self._problem.say("\n".join(model.outcome))
        self._wishes = model.wishes

    def _fill(self, chosen: Chosen) -> None:
        self._problem.say("")
        if chosen is None:
            return
        reading = chosen.reading
        self.reading.put(f"{_OXIMETER}{reading}" if reading else _STRAP)
        if isinstance(chosen, WornModel):
            self.who.put("" if chosen.athlete is None else chosen.who)
            self.site.put("" if reading == STRAP else chosen.site)
        else:
            who, site = chosen.usual
            self.who.put(who or self.who.currentText())
            self.site.put(site)
        self._choose_band(self.who.currentText())

    def _say(self, chosen: Chosen) -> None:
        if chosen is None:
            self._title.setText("No sensor chosen")
            self._hint.say(_NOTHING)
        elif isinstance(chosen, WornModel):
            self._title.setText(chosen.name)
            self._hint.say(chosen.hint)
        else:
            self._title.setText(chosen.name)
            self._hint.say("")
        self._offer(chosen.choices if isinstance(chosen, WornModel) else ())

    def _offer(self, choices: tuple[ChoiceModel, ...]) -> None:
        """Show one button for each device that may be meant."""
        if [one.address for one in choices] != [one.address for one in self._offered]:
            for button in self._choosers:
                self._choices.removeWidget(button)
                button.hide()
                button.deleteLater()
            self._choosers = []
            for one in choices:
                button = KitButton(one.words)
                button.clicked.connect(lambda _=False, at=one.address: self._choose(at))
                self._choices.addWidget(button)
                self._choosers.append(button)
        self._offered = choices
        for button, one in zip(self._choosers, choices, strict=True):
            button.setText(f"It is {one.words}")

    def _arrange(self) -> None:
        """Enable what makes sense for the chosen sensor."""
        chosen = self._chosen
        worn = isinstance(chosen, WornModel)
        for field in (self.who, self.band, self.use):
            field.setEnabled(chosen is not None)
        self.reading.setEnabled(chosen is not None and not worn)
        self.site.setEnabled(chosen is not None and self._reading() != STRAP)
        self.use.setText("Change" if worn else "Use it")
        self.off.setVisible(worn)
        self.again.setVisible(isinstance(chosen, WornModel) and chosen.can_retry)

    def _reading(self) -> str:
        text = self.reading.currentText()
        return text.removeprefix(_OXIMETER) if text.startswith(_OXIMETER) else STRAP

    def _choose_band(self, name: str) -> None:
        """Show the band of whoever is named; somebody new keeps what is typed."""
        model = self._model
        who = None if model is None else named(name, (*model.athletes, *model.known))
        if who is not None:
            self.band.setText(who.band)

    def _use(self) -> None:
        chosen, model = self._chosen, self._model
        if chosen is None or model is None:
            return
        self._problem.say("")
        try:
            band = read_band(self.band.text())
        except UsageError as problem:
            self._problem.say(str(problem))
            self.band.setFocus()
            return
        name, site = self.who.currentText(), self.site.currentText()
        if not name.strip():
            self._problem.say("Say who wears it: choose somebody, or type a name.")
            self.who.setFocus()
            return
        who = named(name, model.athletes)
        if who is None:
            athlete = self._commands.add_athlete(name.strip(), band)
        else:
            athlete = who.athlete
            if read_band(who.band) != band:
                self._commands.change_athlete(athlete, who.name, band)
        if isinstance(chosen, NearbyModel):
            self._commands.wear(chosen.key, self._reading(), athlete, site)
        elif athlete != chosen.athlete or (chosen.reading != STRAP and site != chosen.site):
            self._commands.assign(chosen.sensor, athlete, site)
        self.done.emit()

    def _take_off(self) -> None:
        if isinstance(self._chosen, WornModel):
            self._commands.take_off(self._chosen.sensor)
            self.done.emit()

    def _retry(self) -> None:
        if isinstance(self._chosen, WornModel):
            self._commands.retry(self._chosen.sensor)

    def _choose(self, address: str) -> None:
        if isinstance(self._chosen, WornModel):
            self._commands.choose(self._chosen.sensor, address)

    def _add_adapter(self) -> None:
        path = self._ask()
        if path:
            self._problem.say("")
            self._commands.add_adapter(path)


def _key(chosen: Chosen) -> str:
    if chosen is None:
        return ""
    return chosen.key if isinstance(chosen, NearbyModel) else chosen.sensor
