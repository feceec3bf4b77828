"""The Kit page: what is nearby, who wears what, the chosen sensor, the resting baseline."""

from itertools import pairwise
from typing import Final

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from livemon.tongue import said
from livemon.view.kit_advice import ADVICE, CAUTION
from livemon.view.kit_commands import KitCommands
from livemon.view.kit_model import KitModel
from livemon.view.kit_rows import nearby_rows, worn_rows
from livemon.view.qt.ask_adapter import ask_adapter
from livemon.view.qt.kit_form import AskFile, Chosen, KitForm
from livemon.view.qt.kit_list import KitList
from livemon.view.qt.kit_parts import KitButton, Words, card, heading, inside
from livemon.view.qt.kit_rest import KitRest
from livemon.view.qt.kit_style import kit_style
from livemon.view.qt.look import Look

#: Text grows with the window: 14 px on a laptop of 768 lines, 19 px on one of 1080.
_LINES_A_PIXEL: Final = 55
_LEAST_PX: Final = 13
_MOST_PX: Final = 24
#: By the size of the text: what the fields and buttons of one sensor need.
_INSPECTOR: Final = 25
_HEADINGS_FROM_PX: Final = 1000
_ADVICE_FROM_PX: Final = 640
#: Keys that the page leaves to the window; all others are for its own fields and lists.
_FOR_THE_WINDOW: Final = frozenset({Qt.Key.Key_Escape, Qt.Key.Key_F1, Qt.Key.Key_F11})


class KitPage(QWidget):
    """Shows a KitModel and decides nothing."""

    left = Signal()  #: somebody wants to go on to the live pages

    def __init__(
        self,
        look: Look,
        commands: KitCommands,
        *,
        ask: AskFile = ask_adapter,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setObjectName("kit")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setAccessibleName(said("Kit"))
        self._look, self._commands = look, commands
        self._model: KitModel | None = None
        self._px = 0
        self._title, self._summary = heading(said("Kit"), "title"), Words("dim")
        self._warnings, self._trouble = Words("heading"), Words("heading")
        self._headings = (heading(said("Nearby"), "column"), heading(said("In use"), "column"))
        self.look_around = KitButton(said("Look around"))
        self.look_around.setCheckable(True)
        self.everything = KitButton(said("Show all"))
        self.everything.setCheckable(True)
        self.everything.setToolTip(said("also what does not say that it is a sensor"))
        self.next = KitButton(said("Next that needs you"))
        self.leave = KitButton(said("Go on  {key}", key="K"))
        self.nearby = KitList(look, said("Nearby"))
        self.worn = KitList(look, said("In use"))
        self.form = KitForm(commands, ask)
        self.rest = KitRest(commands)
        self._place()
        self.look_around.clicked.connect(commands.look_around)
        self.everything.clicked.connect(commands.list_everything)
        self.leave.clicked.connect(self.left)
        self.next.clicked.connect(self._go_to_next)
        self.nearby.chosen.connect(lambda _: self._choose(self.nearby, self.worn))
        self.worn.chosen.connect(lambda _: self._choose(self.worn, self.nearby))
        self.nearby.opened.connect(lambda _: self.form.who.setFocus())
        self.worn.opened.connect(lambda _: self.form.who.setFocus())
        self.form.done.connect(self._go_back_to_list)
        self._order_tabs()

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self._dress()

    def show_model(self, model: KitModel) -> None:
        """Show everything."""
        if model == self._model:
            return
        self._model = model
        self._summary.say(model.summary)
        self._warnings.say(model.warnings)
        self._trouble.say(model.trouble)
        self.look_around.setChecked(model.looking)
        self.look_around.setText(said("Looking around") if model.looking else said("Look around"))
        self.everything.setChecked(model.everything)
        self.leave.setEnabled(bool(model.athletes))
        self.next.setVisible(any(one.needs for one in model.worn))
        self.nearby.show_rows(nearby_rows(model), model.searching)
        self.worn.show_rows(
            worn_rows(model), said("Choose a sensor on the left and say who wears it.")
        )
        self.form.show_model(model, self._chosen(model))
        self.rest.show_model(model)

    def _place(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self._title)
        head.addSpacing(12)
        head.addWidget(self._summary, 1)
        head.addWidget(self.leave)
        columns = QHBoxLayout()
        columns.setSpacing(14)
        columns.addLayout(self._nearby_column(), 30)
        columns.addLayout(self._worn_column(), 38)
        columns.addLayout(self._sensor_column(), 32)
        foot = Words("small")
        foot.say(said(CAUTION))
        rows = QVBoxLayout(self)
        rows.setContentsMargins(16, 10, 16, 8)
        rows.addLayout(head)
        rows.addWidget(self._warnings)
        rows.addWidget(self._trouble)
        rows.addLayout(columns, 1)
        rows.addWidget(foot)

    def _nearby_column(self) -> QVBoxLayout:
        line = QHBoxLayout()
        line.addWidget(self._headings[0], 1)
        line.addWidget(self.look_around)
        line.addWidget(self.everything)
        self._advice = advice = card()
        words = inside(advice)
        words.addWidget(heading(said("Placing")))
        for each in ADVICE:
            line_below = Words("small")
            line_below.say(said(each.words))
            line_below.setToolTip(said("Source: {source}", source=said(each.source)))
            words.addWidget(line_below)
        column = QVBoxLayout()
        column.addLayout(line)
        column.addWidget(self.nearby, 1)
        column.addWidget(advice)
        return column

    def _worn_column(self) -> QVBoxLayout:
        column = QVBoxLayout()
        line = QHBoxLayout()
        line.addWidget(self._headings[1], 1)
        line.addWidget(self.next)
        column.addLayout(line)
        column.addWidget(self.worn, 1)
        return column

    def _sensor_column(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.addWidget(heading(said("Chosen sensor"), "column"))
        column.addWidget(self._inspector(), 1)
        return column

    def _inspector(self) -> QScrollArea:
        whole = QWidget()
        whole.setObjectName("ground")
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(14)
        column.addWidget(self.form)
        column.addWidget(self.rest)
        column.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(whole)
        self._area = area
        return area

    def _order_tabs(self) -> None:
        """Tab goes as the eye does: lists, the chosen sensor, the baseline, and away."""
        stops: list[QWidget] = [
            self.look_around, self.everything, self.nearby, self.next, self.worn,
            *self.form.stops, self.rest.who, self.rest.toggle, self.leave,
        ]  # fmt: skip
        for one, following in pairwise(stops):
            self.setTabOrder(one, following)

    def _go_back_to_list(self) -> None:
        (self.worn if self.worn.key else self.nearby).setFocus()

    def _go_to_next(self) -> None:
        """Choose the next sensor that needs somebody; after the last, the first."""
        worn = () if self._model is None else self._model.worn
        keys = [one.sensor for one in worn]
        after = keys.index(self.worn.key) + 1 if self.worn.key in keys else 0
        needing = [one.sensor for one in (*worn[after:], *worn[:after]) if one.needs]
        if needing:
            self.worn.choose(needing[0])
            self._choose(self.worn, self.nearby)

    def _choose(self, here: KitList, other: KitList) -> None:
        """Only one sensor is chosen in both lists together."""
        other.choose("")
        if self._model is None:
            return
        self.form.show_model(self._model, self._chosen(self._model))
        worn = next((one for one in self._model.worn if one.sensor == here.key), None)
        if worn is not None:
            self.rest.prefer(worn.who)

    def _chosen(self, model: KitModel) -> Chosen:
        for nearby in model.nearby:
            if nearby.key == self.nearby.key:
                return nearby
        return next((one for one in model.worn if one.sensor == self.worn.key), None)

    def _dress(self) -> None:
        px = min(max(self.height() // _LINES_A_PIXEL, _LEAST_PX), _MOST_PX)
        self._px = px
        self.setStyleSheet(kit_style(self._look.theme, px))
        self.nearby.set_look(self._look, px)
        self.worn.set_look(self._look, px)
        self._area.setMinimumWidth(_INSPECTOR * px)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Let the text grow with the window; where it is small, fields come before advice."""
        for each in self._headings:
            each.setVisible(self.width() >= _HEADINGS_FROM_PX)
        self._advice.setVisible(self.height() >= _ADVICE_FROM_PX)
        if min(max(self.height() // _LINES_A_PIXEL, _LEAST_PX), _MOST_PX) != self._px:
            self._dress()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Look around as long as the page is seen."""
        self.nearby.setFocus()
        self._commands.look_around(True)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Leave the air to the links that stand."""
        self._commands.look_around(False)

    def event(self, event: QEvent) -> bool:
        """Keep arrows, Enter, Space and letters from the window's shortcuts."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            plain = not event.modifiers() & Qt.KeyboardModifier.ControlModifier
            letter_k = event.key() == Qt.Key.Key_K
            if plain and event.key() not in _FOR_THE_WINDOW and not letter_k:
                event.accept()
                return True
        return super().event(event)
