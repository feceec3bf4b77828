"""Other names for a sensor in use and for whoever wears it."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLineEdit, QWidget

from livemon.tongue import said
from livemon.view.kit_model import WornModel
from livemon.view.qt.kit_parts import KitButton, labelled


class KitNames(QWidget):
    """Two names and a button; hidden until somebody wants it."""

    wanted = Signal(str, str)  #: the sensor's name and the athlete's, as they shall be

    def __init__(self) -> None:
        super().__init__()
        self.sensor, self.athlete = QLineEdit(), QLineEdit()
        self.sensor.setAccessibleName(said("Name of the sensor"))
        self.athlete.setAccessibleName(said("Name of the athlete"))
        self.rename = KitButton(said("Rename"))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setColumnStretch(1, 1)
        grid.setHorizontalSpacing(14)
        fields = ((said("Sensor"), self.sensor), (said("Athlete"), self.athlete))
        for at, (label, field) in enumerate(fields):
            grid.addWidget(labelled(label, field), at, 0)
            grid.addWidget(field, at, 1)
            field.returnPressed.connect(self._want)
        grid.addWidget(self.rename, 2, 1)
        self.rename.clicked.connect(self._want)
        self.hide()

    @property
    def stops(self) -> tuple[QWidget, ...]:
        """Where Tab leads, one after the other."""
        return self.sensor, self.athlete, self.rename

    def show_for(self, worn: WornModel) -> None:
        """Show the names that stand, ready to be changed."""
        self.sensor.setText(worn.name)
        self.athlete.setText(worn.who if worn.athlete is not None else "")
        self.athlete.setEnabled(worn.athlete is not None)
        self.show()
        self.sensor.setFocus()
        self.sensor.selectAll()

    def _want(self) -> None:
        self.wanted.emit(self.sensor.text().strip(), self.athlete.text().strip())
