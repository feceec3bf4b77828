"""What fills the window: one page at a time, and what may lie over it."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QStackedWidget, QWidget

from livemon.tongue import said
from livemon.view import waiting
from livemon.view.blink import lit
from livemon.view.keys import Key
from livemon.view.lanes_model import LanesModel
from livemon.view.model import PaceModel
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.look import Look
from livemon.view.qt.message_page import MessagePage
from livemon.view.qt.overlays import Overlays
from livemon.view.qt.pace import PacePage
from livemon.view.settings import ViewSettings


class Screen(QWidget):
    """Message, Pace and Lanes pages; shows the one that a model is for."""

    opened = Signal(str)  #: this athlete's lane was clicked
    focused = Signal(str)  #: Tab led to this athlete's lane

    def __init__(
        self,
        look: Look,
        settings: ViewSettings,
        keys: tuple[Key, ...],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._look = look
        self._pages = QStackedWidget(self)
        self._message = MessagePage(look)
        self._pace = PacePage(look)
        self._lanes = LanesPage(look)
        for page in (self._message, self._pace, self._lanes):
            self._pages.addWidget(page)
        self._lanes.opened.connect(self.opened)
        self._lanes.focused.connect(self.focused)
        self.over = Overlays(keys, settings, look, self, moved=self._place)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def add_page(self, page: QWidget) -> None:
        """Take one more page, to be shown by `show_page`."""
        self._pages.addWidget(page)

    def show_page(self, page: QWidget) -> None:
        """Show a page that was added."""
        self._pages.setCurrentWidget(page)

    def use(self, settings: ViewSettings, look: Look) -> None:
        """Show everything by these settings, in these colours, from now on."""
        self._look = look
        self.over.settings.show_settings(settings)
        self.over.set_look(look)
        self._message.set_look(look)
        self._pace.set_look(look)
        self._lanes.set_look(look)

    def show_model(
        self,
        model: PaceModel | LanesModel | None,
        *,
        selected: str | None,
        log: Callable[[], tuple[tuple[str, str], ...]],
        now_s: float,
    ) -> None:
        """Show the page that `model` is for; `now_s` tells frames when to blink."""
        if model is None:
            steps = tuple(said(step) for step in waiting.STEPS)
            self.show_message(said(waiting.TITLE), steps, said(waiting.CAUTION))
            return
        if isinstance(model, LanesModel):
            self._lanes.show_model(model, selected, now_s)
            self._pages.setCurrentWidget(self._lanes)
            self.over.settings.show_digit(self._lanes.digit_px)
        else:
            may_blink = self._look.motion and model.watch.calls
            self._pace.show_model(model, lit=lit(model.watch.priority, now_s, motion=may_blink))
            self._pages.setCurrentWidget(self._pace)
            self.over.settings.show_digit(self._pace.digit_px)
        if not self.over.values.isHidden():
            self.over.values.show_rows((*model.table, *log()))

    def show_message(self, title: str, lines: tuple[str, ...], foot: str = "") -> None:
        """Show only these words."""
        self._message.show_words(title, lines, foot)
        self._pages.setCurrentWidget(self._message)

    def show_failure(self, problem: str) -> None:
        """Say that drawing has failed, and with what."""
        self.show_message(
            said("The screen has failed"),
            (
                problem,
                said("What is recorded is safe, and recording goes on."),
                said("Close, and start again."),
            ),
        )

    def show_saving(self) -> None:
        """Say why the window is still here although it was closed."""
        self.show_message(said("Saving…"), (said("The session is being put away in good order."),))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Place the parts anew."""
        self._place()

    def _place(self) -> None:
        self._pages.setGeometry(self.over.place(self.size()))
