"""The Pace page: one athlete, large enough to be read from where the work is done."""

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from livemon.view.layout import pace_layout
from livemon.view.model import EffortModel, PaceModel
from livemon.view.qt.boxes import whole
from livemon.view.qt.chart import Chart
from livemon.view.qt.effort_line import EffortLine
from livemon.view.qt.header import Header
from livemon.view.qt.heart_rate_panel import HeartRatePanel
from livemon.view.qt.look import Look
from livemon.view.qt.site_card import SiteCard
from livemon.view.qt.watch_band import WatchBand


class PacePage(QWidget):
    """Shows a PaceModel and decides nothing."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._header = Header(look, self)
        self._heart_rate = HeartRatePanel(look, self)
        self._cards: list[SiteCard] = []
        self._shown_cards = 0
        self._effort = EffortLine(look, self)
        self._effort.setVisible(False)
        self._watch = WatchBand(look, self)
        self._chart = Chart(look, self)

    @property
    def digit_px(self) -> float:
        """How tall the digits of heart rate are."""
        return max((line.capital_px for line in self._heart_rate.written), default=0.0)

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self._header.set_look(look)
        self._heart_rate.set_look(look)
        self._effort.set_look(look)
        self._watch.set_look(look)
        self._chart.set_look(look)
        for card in self._cards:
            card.set_look(look)

    def show_model(self, model: PaceModel, *, lit: bool) -> None:
        """Show `model`; `lit` is False in the dark half of a blinking frame."""
        if len(model.sites) != self._shown_cards:
            self._deal(len(model.sites))
        self._header.show_model(model.name, model.clock, model.remarks)
        self._heart_rate.show_model(model.heart_rate)
        for card, site in zip(self._cards, model.sites, strict=False):
            card.show_model(site, lit=lit)
        self._show_effort(model.effort)
        self._watch.show_model(model.watch, lit=lit)
        self._chart.show_model(model.chart)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Place the parts anew."""
        self._place()

    def _show_effort(self, effort: tuple[EffortModel, ...]) -> None:
        """Show the line where something is measured; without it the chart has its room."""
        if bool(effort) is self._effort.isHidden():
            self._effort.setVisible(bool(effort))
            self._place()
        self._effort.show_models(effort)

    def _deal(self, count: int) -> None:
        """Show `count` cards; cards once made are kept for the next athlete."""
        while len(self._cards) < count:
            self._cards.append(SiteCard(self._look, len(self._cards), self))
        self._shown_cards = count
        for i, card in enumerate(self._cards):
            card.setVisible(i < count)
        before: QWidget = self._heart_rate
        for after in (*self._cards[:count], self._watch):
            QWidget.setTabOrder(before, after)
            before = after
        self._place()

    def _place(self) -> None:
        effort = not self._effort.isHidden()
        layout = pace_layout(self.width(), self.height(), self._shown_cards, effort=effort)
        self._header.setGeometry(whole(layout.header))
        self._heart_rate.setGeometry(whole(layout.heart_rate))
        for card, box in zip(self._cards, layout.sites, strict=False):
            card.setGeometry(whole(box))
        if layout.effort is not None:
            self._effort.setGeometry(whole(layout.effort))
        self._watch.setGeometry(whole(layout.watch))
        self._chart.setGeometry(whole(layout.chart))
