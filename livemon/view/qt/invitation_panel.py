"""How relays join, laid over the page: the code large, the QR code, and whom the door refused."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from livemon.tongue import marked, said
from livemon.view.invitation import InvitationModel, spoken_invitation
from livemon.view.qt.qr_picture import QrPicture

#: Of the window's height, so that the code can be photographed from some steps away.
_QR_SHARE: Final = 0.6
#: Text grows with the window, as on the Bouts page.
_LINES_A_PIXEL: Final = 52
_LEAST_PX: Final = 12
_CODE_SCALE: Final = 2.0
#: In sizes of the text: the command to type fits one line.
_WORDS: Final = 34
_WARNING: Final = marked(
    "Who has the code may send to this session until it ends. Show it to nobody else."
)


class InvitationPanel(QFrame):
    """Shows what `invitation` gives whenever it is refreshed."""

    def __init__(
        self, invitation: Callable[[], InvitationModel], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._invitation = invitation
        self._model: InvitationModel | None = None
        self.setFrameShape(QFrame.Shape.Box)
        self.setAutoFillBackground(True)
        self.setAccessibleName(said("How relays join"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.qr = QrPicture()
        self.code, self.place, self.command = _line(), _line(), _line()
        self.code.setWordWrap(False)
        self.code.setAccessibleName(said("Join code"))
        self.place.setAccessibleName(said("Where"))
        self.command.setAccessibleName(said("What to type on a relay"))
        self.refused = _line()
        self.refused.setAccessibleName(said("Refused"))
        self._height_px = 0
        self._place()

    def refresh(self, height_px: int) -> None:
        """Show it as it is now, in a window of this height."""
        model = self._invitation()
        self.qr.show_matrix(model.matrix, round(height_px * _QR_SHARE))
        if height_px != self._height_px:
            self._height_px = height_px
            self._set_text(max(height_px // _LINES_A_PIXEL, _LEAST_PX))
        if model == self._model:
            return
        self._model = model
        self.setAccessibleDescription(spoken_invitation(model))
        self.code.setText(model.code)
        self.place.setText(f"{model.place}, {model.reach}")
        self.command.setText(f"{said('On a relay:')}\n{model.command}")
        self.refused.setText("\n".join((*filter(None, (model.trouble,)), *model.refused)))
        self.refused.setVisible(bool(self.refused.text()))
        self._inside.invalidate()
        self._inside.activate()  # what lies over the page is placed by its size at once

    def _set_text(self, px: int) -> None:
        for label in self.findChildren(QLabel):
            font = label.font()
            font.setPixelSize(round(px * _CODE_SCALE) if label is self.code else px)
            font.setBold(label is self.code)
            label.setFont(font)
            label.setMinimumWidth(px * _WORDS)

    def _place(self) -> None:
        words = QVBoxLayout()
        words.setSpacing(14)
        for line in (
            _line(said("Join code")),
            self.code,
            self.place,
            self.command,
            _line(said(_WARNING)),
        ):
            words.addWidget(line)
        words.addWidget(self.refused)
        words.addStretch(1)
        self._inside = inside = QHBoxLayout(self)
        inside.setContentsMargins(28, 24, 28, 24)
        inside.setSpacing(28)
        inside.addWidget(self.qr)
        inside.addLayout(words)


def _line(text: str = "") -> QLabel:
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setWordWrap(True)
    return made
