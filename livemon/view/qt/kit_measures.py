"""What is typed about an athlete: the heart rate to hold, and how thick fat and skin are."""

from PySide6.QtWidgets import QLineEdit

from livemon.tongue import said
from livemon.view.kit_commands import Band
from livemon.view.kit_entry import read_adipose, read_band


class KitBand(QLineEdit):
    """The heart rate to hold."""

    def __init__(self) -> None:
        super().__init__()
        self.setPlaceholderText(said("as 142–154, or empty"))
        self.setAccessibleName(said("Heart rate to hold, bpm"))

    @property
    def band(self) -> Band:
        """What is typed; None where nothing is.

        Raises:
            UsageError: it is no band.
        """
        return read_band(self.text())


class KitFatLayer(QLineEdit):
    """How thick fat and skin are over the muscle."""

    def __init__(self) -> None:
        super().__init__()
        self.setPlaceholderText(said("as 4.5, or empty"))
        self.setAccessibleName(said("Thickness of fat and skin over the muscle, mm"))
        self.setToolTip(
            said(
                "one layer, at the thickest place that carries an oximeter; best by ultrasound, "
                "as half of a skinfold is only a rough guess"
            )
        )

    @property
    def thickness_mm(self) -> float | None:
        """What is typed; None where nothing is.

        Raises:
            UsageError: it is no thickness.
        """
        return read_adipose(self.text())
