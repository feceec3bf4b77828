"""A dialog for what was noted wrongly or not at all about one bout."""

from collections.abc import Callable

from PySide6.QtWidgets import QDialog, QFormLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from livemon.errors import UsageError
from livemon.monitor.mark_fields import LOAD_UNITS, SAMPLING_SITES
from livemon.reworded.refused import refusal_said
from livemon.tongue import marked, said
from livemon.view.bouts_commands import BoutEntry
from livemon.view.qt.kit_parts import KitButton, KitChoice, Words, heading, labelled

_KEPT = marked(
    "What was marked first stays in the recording; this is added as a correction. An empty field "
    "changes nothing."
)


class BoutForm(QDialog):
    """Asks for kind, load, exertion and lactate; stays open while something can't be used."""

    def __init__(
        self, title: str, now: BoutEntry, keep: Callable[[BoutEntry], None], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setObjectName("bouts")
        self.setWindowTitle(said("Correct a bout"))
        self._now, self._keep = now, keep
        self.kind = self._field(said("Kind of work"), now.kind)
        self.load = self._field(said("Load"), now.load)
        self.unit = KitChoice(said("Unit of the load"), typed=False)
        self.unit.offer(tuple(unit for _, unit in LOAD_UNITS))
        self.unit.put(now.load_unit)
        self.rpe = self._field(said("RPE, Borg CR10"), now.rpe)
        self.lactate = self._field(said("Lactate, mmol/L"), now.lactate)
        self.sampling_site = KitChoice(said("Sampling site"), typed=False)
        self.sampling_site.offer(("", *SAMPLING_SITES))
        self.trouble = Words()
        self.save, self.leave = (
            KitButton(said("Add correction"), main=True),
            KitButton(said("Cancel")),
        )
        self._place(title)
        self.save.clicked.connect(self._save)
        self.leave.clicked.connect(self.reject)

    def entry(self) -> BoutEntry:
        """Return what differs from what was there."""
        load = self.load.text().strip()
        unit = self.unit.currentText()
        same_load = load == self._now.load and unit == self._now.load_unit
        return BoutEntry(
            _changed(self.kind.text(), self._now.kind),
            "" if same_load else load,
            unit,
            _changed(self.rpe.text(), self._now.rpe),
            _changed(self.lactate.text(), self._now.lactate),
            self.sampling_site.currentText(),
        )

    def _save(self) -> None:
        try:
            self._keep(self.entry())
        except UsageError as error:
            self.trouble.say(said("Not kept: {error}", error=refusal_said(str(error))))
            return
        self.accept()

    def _place(self, title: str) -> None:
        form = QFormLayout()
        for name, field in (
            (said("Kind of work"), self.kind),
            (said("Load"), self.load),
            (said("Unit"), self.unit),
            (said("RPE, Borg CR10"), self.rpe),
            (said("Lactate, mmol/L"), self.lactate),
            (said("Sampling site"), self.sampling_site),
        ):
            form.addRow(labelled(name, field), field)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self.leave)
        buttons.addWidget(self.save)
        kept = Words("dim")
        kept.say(said(_KEPT))
        inside = QVBoxLayout(self)
        inside.setContentsMargins(24, 20, 24, 20)
        inside.setSpacing(12)
        inside.addWidget(heading(title))
        inside.addLayout(form)
        inside.addWidget(kept)
        inside.addWidget(self.trouble)
        inside.addLayout(buttons)
        self.setMinimumWidth(460)

    def _field(self, name: str, text: str) -> QLineEdit:
        made = QLineEdit(text)
        made.setAccessibleName(name)
        return made


def _changed(text: str, before: str) -> str:
    return "" if text.strip() == before else text.strip()
