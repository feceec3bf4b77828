"""The resting baseline: whose, how long it still takes, whether it is steady, what it found."""

from typing import Final

from PySide6.QtWidgets import QFrame, QHBoxLayout, QProgressBar

from livemon.tongue import said
from livemon.view.kit_advice import BASELINE
from livemon.view.kit_baseline_words import EVERYBODY, everybody_words
from livemon.view.kit_commands import KitCommands
from livemon.view.kit_entry import named
from livemon.view.kit_facts import STRAP, WORK
from livemon.view.kit_model import BaselineModel, KitModel
from livemon.view.qt.kit_parts import KitButton, KitChoice, Words, heading, inside

_PERMILLE: Final = 1000


class KitRest(QFrame):
    """One athlete's baseline, or everybody's."""

    def __init__(self, commands: KitCommands) -> None:
        super().__init__()
        self.setObjectName("card")
        self._commands = commands
        self._model: KitModel | None = None
        self.who = KitChoice(said("Baseline of"), typed=False)
        self.toggle = KitButton(said("Start"))
        self._bar = QProgressBar()
        self._bar.setRange(0, _PERMILLE)
        self._bar.setTextVisible(False)
        self._bar.setAccessibleName(said("Time of the baseline that has passed"))
        self._words = Words("dim")
        self._words.say(said(BASELINE))
        rows = inside(self)
        rows.addWidget(heading(said("Resting baseline")))
        line = QHBoxLayout()
        line.addWidget(self.who, 1)
        line.addWidget(self.toggle)
        rows.addLayout(line)
        rows.addWidget(self._bar)
        rows.addWidget(self._words)
        self.toggle.clicked.connect(self._toggle)
        self.who.currentTextChanged.connect(lambda _: self._show())

    def show_model(self, model: KitModel) -> None:
        """Show how it stands."""
        self._model = model
        names = tuple(one.name for one in model.athletes)
        self.who.offer((said(EVERYBODY), *names) if len(names) > 1 else names)
        self.who.setEnabled(bool(names))
        self._show()

    def prefer(self, name: str) -> None:
        """Show this athlete's."""
        self.who.put(name)

    def _show(self) -> None:
        chosen = self._chosen()
        running = any(one.running for one in chosen)
        self.toggle.setEnabled(bool(self._able()))
        self.toggle.setText(said("Stop") if running else said("Start"))
        self._bar.setVisible(running)
        self._bar.setValue(round(min((one.share for one in chosen), default=0.0) * _PERMILLE))
        words = everybody_words(chosen) if len(chosen) > 1 else _words(chosen)
        self._words.say(words or said(BASELINE))

    def _chosen(self) -> tuple[BaselineModel, ...]:
        if self._model is None:
            return ()
        ids = self._ids()
        return tuple(one for one in self._model.baselines if one.athlete in ids)

    def _ids(self) -> tuple[str, ...]:
        """Return whom the choice means."""
        if self._model is None:
            return ()
        if self.who.currentText() == said(EVERYBODY):
            return tuple(one.athlete for one in self._model.athletes)
        who = named(self.who.currentText(), self._model.athletes)
        return () if who is None else (who.athlete,)

    def _able(self) -> tuple[str, ...]:
        """Return those of them who wear an oximeter."""
        worn = () if self._model is None else self._model.worn
        wearing = {one.athlete for one in worn if one.reading not in {STRAP, WORK}}
        return tuple(athlete for athlete in self._ids() if athlete in wearing)

    def _toggle(self) -> None:
        if any(one.running for one in self._chosen()):
            for athlete in self._ids():
                self._commands.stop_baseline(athlete)
            return
        for athlete in self._able():
            self._commands.start_baseline(athlete)


def _words(chosen: tuple[BaselineModel, ...]) -> str:
    if not chosen:
        return ""
    lines = [chosen[0].clock]
    lines += [f"{site}  {level}  {words}" for site, level, words in chosen[0].rows]
    return "\n".join(lines)
