"""How a sensor is read, as a choice in words; and the wheel, where one may be counted."""

from typing import Final

from PySide6.QtWidgets import QLineEdit

from livemon.view.kit_facts import STRAP, WORK
from livemon.view.qt.kit_parts import KitChoice
from livemon.view.wheel_entry import read_wheel_m

_STRAP: Final = "heart-rate strap"
_WORK: Final = "power, speed, machine, SpO₂"
_OXIMETER: Final = "oximeter, "


class KitReading(KitChoice):
    """Strap, work by a standard profile, or an oximeter with one of the adapters."""

    def __init__(self) -> None:
        super().__init__("Read as", typed=False)

    def offer_adapters(self, adapters: tuple[str, ...]) -> None:
        """Offer what needs no adapter, and each adapter."""
        self.offer((_STRAP, _WORK, *(f"{_OXIMETER}{name}" for name in adapters)))

    def put_reading(self, reading: str | None) -> None:
        """Choose a reading; where it is not known, the strap."""
        words = {None: _STRAP, STRAP: _STRAP, WORK: _WORK}
        self.put(words.get(reading, f"{_OXIMETER}{reading}"))

    @property
    def reading(self) -> str:
        """STRAP, WORK or an adapter's name."""
        text = self.currentText()
        if text == _WORK:
            return WORK
        return text.removeprefix(_OXIMETER) if text.startswith(_OXIMETER) else STRAP


class KitWheel(QLineEdit):
    """How far a wheel goes in one revolution."""

    def __init__(self) -> None:
        super().__init__()
        self.setPlaceholderText("as 2.105, or empty")
        self.setAccessibleName("Way of the wheel in one revolution, m")
        self.setToolTip("for a sensor that counts a wheel: roll it one turn under load and measure")

    @property
    def wheel_m(self) -> float | None:
        """What is typed; None where nothing is, or where no wheel can be.

        Raises:
            UsageError: it is no such length.
        """
        text = self.text().strip()
        return read_wheel_m(text) if text and self.isEnabled() else None
