"""How a sensor is read, as a choice in words; and the wheel, where one may be counted."""

from typing import Final

from PySide6.QtWidgets import QLineEdit

from livemon.tongue import marked, said
from livemon.view.kit_facts import STRAP, WORK
from livemon.view.qt.kit_parts import KitChoice
from livemon.view.wheel_entry import read_wheel_m

_STRAP: Final = marked("heart-rate strap")
_WORK: Final = marked("power, speed, machine, SpO₂")
_OXIMETER: Final = marked("oximeter, {adapter}")


class KitReading(KitChoice):
    """Strap, work by a standard profile, or an oximeter with one of the adapters."""

    def __init__(self) -> None:
        super().__init__(said("Read as"), typed=False)
        #: What each choice means, in the language that was chosen.
        self._readings: dict[str, str] = {}

    def offer_adapters(self, adapters: tuple[str, ...]) -> None:
        """Offer what needs no adapter, and each adapter."""
        words = {said(_STRAP): STRAP, said(_WORK): WORK}
        words |= {said(_OXIMETER, adapter=name): name for name in adapters}
        self._readings = words
        self.offer(tuple(words))

    def put_reading(self, reading: str | None) -> None:
        """Choose a reading; where it is not known, the strap."""
        wanted = STRAP if reading is None else reading
        words = (words for words, one in self._readings.items() if one == wanted)
        self.put(next(words, said(_STRAP)))

    @property
    def reading(self) -> str:
        """STRAP, WORK or an adapter's name."""
        return self._readings.get(self.currentText(), STRAP)


class KitWheel(QLineEdit):
    """How far a wheel goes in one revolution."""

    def __init__(self) -> None:
        super().__init__()
        self.setPlaceholderText(said("as 2.105, or empty"))
        self.setAccessibleName(said("Way of the wheel in one revolution, m"))
        self.setToolTip(
            said("for a sensor that counts a wheel: roll it one turn under load and measure")
        )

    @property
    def wheel_m(self) -> float | None:
        """What is typed; None where nothing is, or where no wheel can be.

        Raises:
            UsageError: it is no such length.
        """
        text = self.text().strip()
        return read_wheel_m(text) if text and self.isEnabled() else None
