"""The chosen sensor: who wears it and where, what is wrong with it, and what can be done."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QLineEdit,
    QWidget,
)

from livemon.errors import UsageError
from livemon.tongue import marked, said
from livemon.view.kit_commands import KitCommands
from livemon.view.kit_entry import SITES, named, read_adipose, read_band
from livemon.view.kit_facts import STRAP, WORK
from livemon.view.kit_model import AthleteModel, KitModel, NearbyModel, WornModel
from livemon.view.qt.ask_adapter import ask_adapter
from livemon.view.qt.flow import Flow
from livemon.view.qt.kit_choosers import KitChoosers
from livemon.view.qt.kit_measures import KitBand, KitFatLayer
from livemon.view.qt.kit_names import KitNames
from livemon.view.qt.kit_parts import KitButton, KitChoice, Words, inside, labelled
from livemon.view.qt.kit_reading import KitReading, KitWheel
from livemon.view.wheel_entry import wheel_words

_NOTHING: Final = marked(
    "Choose a sensor in one of the lists: with the mouse, or with Tab and the arrow keys."
)
_WITHOUT_SITE: Final = frozenset({STRAP, WORK})
Chosen = NearbyModel | WornModel | None
#: Asks for a file over this widget, and tells its path if one is chosen.
AskFile = Callable[[QWidget, Callable[[str], None]], object]


class KitForm(QFrame):
    """Shows one sensor, and tells `commands` what is wanted of it."""

    done = Signal()  #: a wish went out

    def __init__(self, commands: KitCommands, ask: AskFile = ask_adapter) -> None:
        super().__init__()
        self.setObjectName("card")
        self._commands, self._ask_file = commands, ask
        self._model: KitModel | None = None
        self._chosen: Chosen = None
        self._wishes = 0
        self._title, self._hint = Words("heading"), Words()
        self._caution, self._about = Words(), Words("small")
        self._problem = Words()
        self.who = KitChoice(said("Worn by"), typed=True, example=said("a name"))
        self.band, self.adipose = KitBand(), KitFatLayer()
        self.reading = KitReading()
        self.site = KitChoice(said("Muscle"), typed=True, example=said("as left thigh"))
        self.site.offer(tuple(said(site) for site in SITES))
        self.site.put("")
        self.wheel = KitWheel()
        self.use = KitButton(said("Use it"), main=True)
        self.off = KitButton(said("Take off"))
        self.again = KitButton(said("Try again"))
        self.ask = KitButton(said("Ask what it is"))
        self.ask.setToolTip(
            said("opens it for a moment and reads what it offers; nothing is written")
        )
        self.rename = KitButton(said("Rename…"))
        self.names = KitNames()
        self._choosers = KitChoosers()
        add = KitButton(said("Add an adapter file…"))
        self._place(add)
        #: Where Tab leads, one after the other.
        self.stops: tuple[QWidget, ...] = (
            self.who, self.band, self.adipose, self.reading, self.site, self.wheel, add, self.use,
            self.ask, self.off, self.again, self.rename, *self.names.stops,
        )  # fmt: skip
        self.who.currentTextChanged.connect(self._choose_body)
        self.reading.currentTextChanged.connect(self._arrange)
        self.use.clicked.connect(self._use)
        self.off.clicked.connect(self._take_off)
        self.again.clicked.connect(self._retry)
        self.ask.clicked.connect(self._ask_what)
        self.rename.clicked.connect(self._toggle_names)
        self.names.wanted.connect(self._rename)
        self._choosers.chosen.connect(self._choose)
        self.band.returnPressed.connect(self._use)
        self.adipose.returnPressed.connect(self._use)
        self.wheel.returnPressed.connect(self._use)
        self.who.entered.connect(self._use)
        self.site.entered.connect(self._use)

    def _place(self, add: KitButton) -> None:
        add.clicked.connect(self._add_adapter)
        rows = inside(self)
        rows.addWidget(self._title)
        rows.addWidget(self._hint)
        rows.addWidget(self._choosers)
        rows.addWidget(self._caution)
        rows.addWidget(self._about)
        grid = QGridLayout()
        grid.setColumnStretch(1, 1)
        grid.setHorizontalSpacing(14)
        fields = (
            (said("Worn by"), self.who),
            (said("Hold, bpm"), self.band),
            (said("Fat layer, mm"), self.adipose),
            (said("Read as"), self.reading),
            (said("Muscle"), self.site),
            (said("Wheel, m"), self.wheel),
        )
        for at, (label, field) in enumerate(fields):
            grid.addWidget(labelled(label, field), at, 0)
            grid.addWidget(field, at, 1)
        grid.addWidget(add, len(fields), 1)
        rows.addLayout(grid)
        rows.addWidget(self._problem)
        buttons = Flow(rows.spacing())
        for button in (self.use, self.ask, self.off, self.again, self.rename):
            buttons.addWidget(button)
        rows.addLayout(buttons)
        rows.addWidget(self.names)

    def show_model(self, model: KitModel, chosen: Chosen) -> None:
        """Show the chosen sensor; what is being typed stays while it is the same one."""
        before, self._chosen, self._model = self._chosen, chosen, model
        self.who.offer(tuple(one.name for one in (*model.athletes, *model.known)))
        self.reading.offer_adapters(model.adapters)
        if _key(before) != _key(chosen):
            self._fill(chosen)
        else:
            self._follow(before, chosen)
        self._say(chosen)
        self._arrange()
        if model.wishes != self._wishes and model.outcome:
            self._problem.say("\n".join(model.outcome))
        self._wishes = model.wishes

    def _fill(self, chosen: Chosen) -> None:
        self._problem.say("")
        self.names.hide()
        if chosen is None:
            return
        reading = chosen.reading
        self.reading.put_reading(reading)
        self.wheel.setText(chosen.wheel)
        if isinstance(chosen, WornModel):
            self.who.put("" if chosen.athlete is None else chosen.who)
            self.site.put("" if reading in _WITHOUT_SITE else chosen.site)
        else:
            who, site = chosen.usual
            self.who.put(who or self.who.currentText())
            self.site.put(site)
        self._choose_body(self.who.currentText())

    def _follow(self, before: Chosen, chosen: Chosen) -> None:
        """Take what became known of the same sensor, unless something else was typed meanwhile."""
        match before, chosen:
            case NearbyModel(reading=None), NearbyModel(reading=str(known)):
                self.reading.put_reading(known)
            case WornModel(), WornModel() if self.who.currentText() == before.who:
                self.who.put(chosen.who)

    def _say(self, chosen: Chosen) -> None:
        self._title.say(said("No sensor chosen") if chosen is None else chosen.name)
        worn = chosen if isinstance(chosen, WornModel) else None
        if worn is None:
            self._hint.say(said(_NOTHING) if chosen is None else "")
        else:
            self._hint.say(worn.hint)
        self._caution.say("" if worn is None else worn.caution)
        self._about.say("" if worn is None else worn.about)
        self._choosers.offer(() if worn is None else worn.choices)

    def _arrange(self) -> None:
        """Enable what makes sense for the chosen sensor."""
        chosen = self._chosen
        worn = isinstance(chosen, WornModel)
        for field in (self.who, self.band, self.adipose, self.use):
            field.setEnabled(chosen is not None)
        self.reading.setEnabled(chosen is not None and not worn)
        reading = self.reading.reading
        self.site.setEnabled(chosen is not None and reading not in _WITHOUT_SITE)
        self.wheel.setEnabled(chosen is not None and reading == WORK)
        self.use.setText(said("Change") if worn else said("Use it"))
        self.off.setVisible(worn)
        self.rename.setVisible(worn)
        self.ask.setVisible(isinstance(chosen, NearbyModel) and chosen.can_ask)
        self.again.setVisible(isinstance(chosen, WornModel) and chosen.can_retry)

    def _choose_body(self, name: str) -> None:
        """Show band and fat layer of whoever is named; somebody new keeps what is typed."""
        model = self._model
        who = None if model is None else named(name, (*model.athletes, *model.known))
        if who is not None:
            self.band.setText(who.band)
            self.adipose.setText(who.adipose)

    def _use(self) -> None:
        chosen, model = self._chosen, self._model
        if chosen is None or model is None:
            return
        self._problem.say("")
        at: QLineEdit = self.band
        try:
            band = self.band.band
            at = self.adipose
            adipose_mm = self.adipose.thickness_mm
            at = self.wheel
            wheel_m = self.wheel.wheel_m
        except UsageError as problem:
            self._problem.say(str(problem))
            at.setFocus()
            return
        name, site = self.who.currentText(), self.site.currentText()
        if not name.strip():
            self._problem.say(said("Say who wears it: choose somebody, or type a name."))
            self.who.setFocus()
            return
        who = named(name, model.athletes)
        if who is None:
            athlete = self._commands.add_athlete(name.strip(), band, adipose_mm)
        else:
            athlete = who.athlete
            if (read_band(who.band), read_adipose(who.adipose)) != (band, adipose_mm):
                self._commands.change_athlete(athlete, who.name, band, adipose_mm)
        if isinstance(chosen, NearbyModel):
            self._commands.wear(chosen.key, self.reading.reading, athlete, site, wheel_m)
        elif (
            athlete != chosen.athlete
            or (chosen.reading not in _WITHOUT_SITE and site != chosen.site)
            or wheel_words(wheel_m) != chosen.wheel
        ):
            self._commands.assign(chosen.sensor, athlete, site, wheel_m)
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

    def _ask_what(self) -> None:
        if isinstance(self._chosen, NearbyModel):
            self._problem.say("")
            self._commands.ask_what(self._chosen.key)

    def _toggle_names(self) -> None:
        if isinstance(self._chosen, WornModel) and not self.names.isVisible():
            self.names.show_for(self._chosen)
        else:
            self.names.hide()

    def _rename(self, sensor: str, athlete: str) -> None:
        """Send only what changed; whether a name will do is decided elsewhere."""
        chosen = self._chosen
        if not isinstance(chosen, WornModel):
            return
        self._problem.say("")
        if sensor != chosen.name:
            self._commands.rename_sensor(chosen.sensor, sensor)
        who = self._athlete(chosen.athlete)
        if who is not None and athlete != who.name:
            band, adipose_mm = read_band(who.band), read_adipose(who.adipose)
            self._commands.change_athlete(who.athlete, athlete, band, adipose_mm)
        self.names.hide()
        self.done.emit()

    def _athlete(self, athlete: str | None) -> AthleteModel | None:
        there = () if self._model is None else self._model.athletes
        return next((one for one in there if one.athlete == athlete), None)

    def _add_adapter(self) -> None:
        self._ask_file(self, self._take_adapter)

    def _take_adapter(self, path: str) -> None:
        self._problem.say("")
        self._commands.add_adapter(path)


def _key(chosen: Chosen) -> str:
    if chosen is None:
        return ""
    return chosen.key if isinstance(chosen, NearbyModel) else chosen.sensor
