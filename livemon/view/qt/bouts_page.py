"""The Bouts page: pick bouts at the left, see them over one another and beside each other."""

from typing import Final

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from livemon.tongue import said
from livemon.view.bouts_model import BoutsModel, Picks, bouts_model, first_choice
from livemon.view.bouts_overlay import read_out
from livemon.view.bouts_source import BoutKey, BoutsSession
from livemon.view.qt.bouts_canvas import Canvas
from livemon.view.qt.bouts_history_view import HistoryView
from livemon.view.qt.bouts_icon import marker_icon
from livemon.view.qt.bouts_overlay_view import OverlayView
from livemon.view.qt.bouts_pace_view import PaceView
from livemon.view.qt.bouts_picker import PickList
from livemon.view.qt.bouts_single_view import SingleView
from livemon.view.qt.bouts_table import BoutsTable
from livemon.view.qt.bouts_tables import show_differences, show_figures, show_read_out
from livemon.view.qt.bouts_text import FindingsText
from livemon.view.qt.kit_parts import KitButton, Words, heading
from livemon.view.qt.look import Look
from livemon.view.words import sentence_case

_LEFT: Final = 24  #: width of the left side, in sizes of the text


class BoutsPage(QWidget):
    """Shows a BoutsModel and decides nothing; tells what is wished for."""

    correction = Signal(object)  #: the BoutKey that somebody wants to correct
    saving = Signal()  #: somebody wants the picture in a file
    exporting = Signal(object)  #: somebody wants the BoutKey's recording in a file

    def __init__(self, look: Look, px: int) -> None:
        super().__init__()
        self._look, self._px = look, px
        self._sessions: tuple[BoutsSession, ...] = ()
        self._picks = Picks()
        self._picked = False  #: by somebody, not by us
        self.model: BoutsModel = bouts_model((), Picks())
        self.bouts, self.sites = PickList(said("Bouts")), PickList(said("Muscle sites"))
        self.relative = QCheckBox(said("Points from baseline"))
        self.read_out_time, self.read_out = (
            Words("dim"),
            BoutsTable(said("Values at the cross-hair")),
        )
        self.correct = KitButton(said("Correct bout…"))
        self.whole = KitButton(said("Show whole bouts"))
        self.save = KitButton(said("Save picture…"))
        self.export = KitButton(said("Export…"))
        self.overlay, self.single = OverlayView(), SingleView()
        self.note, self.nothing = Words("dim"), Words()
        self.figures, self.beside = (
            BoutsTable(said("Figures")),
            BoutsTable(said("Set beside the first")),
        )
        self.beside_note = Words("dim")
        self.limits, self.pace, self.history = (
            FindingsText(said("What limits")),
            PaceView(),
            HistoryView(),
        )
        self.tabs = QTabWidget()
        self.tabs.setAccessibleName(said("Views of the picked bouts"))
        self._place()
        self._connect()

    def show_sessions(self, sessions: tuple[BoutsSession, ...]) -> None:
        """Show these recordings; what somebody picked stays picked while the athlete does."""
        before = {(s.record.athlete, s.recording) for s in self._sessions}
        now = {(s.record.athlete, s.recording) for s in sessions}
        self._sessions = sessions
        if not (self._picked and before & now):
            self._picks, self._picked = first_choice(sessions), False
        self.refresh()

    def dress(self, look: Look, px: int) -> None:
        """Take another look."""
        self._look, self._px = look, px
        self._side.setFixedWidth(px * _LEFT)
        self.refresh()

    def refresh(self) -> None:
        """Make the model anew and show it."""
        self.model = bouts_model(self._sessions, self._picks)
        model, look, px = self.model, self._look, self._px
        self._offer()
        self.note.say(sentence_case(model.overlay.note))
        self.nothing.say(sentence_case(model.note))
        self._seen.setVisible(not model.note)
        self.overlay.show_overlay(model.overlay, look, px)
        self.single.show_overlay(model.overlay, look, px)
        show_figures(self.figures, model.figures, look, px)
        show_differences(self.beside, model.differences, look, px)
        self.beside_note.say(model.differences.note)
        self.limits.show_paragraphs(model.limits, look, px)
        self.pace.show_paces(model.paces, model.no_pace, look, px)
        self.history.show_sessions(self._sessions, look, px)

    def current(self) -> BoutKey | None:
        """Return the bout on which the list stands."""
        at = self.bouts.currentRow()
        return self.model.rows[at].key if 0 <= at < len(self.model.rows) else None

    def canvas(self) -> Canvas:
        """Return the picture that is to be saved: the tab's own, or else the large one."""
        shown = self.tabs.currentWidget()
        for view in (self.single, self.pace, self.history):
            if shown is view and not view.canvas.view.isHidden():
                return view.canvas
        return self.overlay.canvas

    def _offer(self) -> None:
        model, look, px = self.model, self._look, self._px
        self.bouts.offer(
            [(f"{row.title}\n{row.detail}", row.spoken) for row in model.rows],
            [marker_icon(row.place, px, look) for row in model.rows],
            [row.key in model.picks.bouts for row in model.rows],
            px,
        )
        self.sites.offer(
            [(sentence_case(site), site) for site in model.sites],
            [None] * len(model.sites),
            [site in model.picks.sites for site in model.sites],
            px,
        )
        lines = min(max(len(model.sites), 1), 4)
        self.sites.setFixedHeight(round(px * (2.0 * lines + 0.8)))
        self.correct.setEnabled(bool(model.rows))
        self.export.setEnabled(bool(model.rows))

    def _pick(self) -> None:
        rows, sites = self.model.rows, self.model.sites
        self._picked = True
        self._picks = Picks(
            tuple(rows[at].key for at in self.bouts.checked()),
            tuple(sites[at] for at in self.sites.checked()),
            self.relative.isChecked(),
        )
        self.refresh()

    def _read(self, at_s: float | None) -> None:
        found = read_out(self.model.overlay, at_s)
        self.read_out_time.say(found.time)
        show_read_out(self.read_out, found, self._look, self._px)
        told = "; ".join(", ".join(row) for row in found.rows)
        self.overlay.setAccessibleDescription(f"{found.time}. {told}")

    def _connect(self) -> None:
        self.bouts.picked.connect(self._pick)
        self.sites.picked.connect(self._pick)
        self.relative.toggled.connect(self._pick)
        self.overlay.pointed.connect(self._read)
        self.whole.clicked.connect(self.overlay.whole)
        self.save.clicked.connect(self.saving)
        self.correct.clicked.connect(lambda: self._tell(self.correction))
        self.export.clicked.connect(lambda: self._tell(self.exporting))

    def _tell(self, wish: SignalInstance) -> None:
        key = self.current()
        if key is not None:
            wish.emit(key)

    def _place(self) -> None:
        left = QVBoxLayout()
        left.setSpacing(6)
        left.addWidget(heading(said("Bouts")))
        left.addWidget(self.bouts, 3)
        left.addWidget(self.correct)
        left.addWidget(heading(said("Muscle sites")))
        left.addWidget(self.sites)
        left.addWidget(self.relative)
        left.addWidget(self.read_out_time)
        left.addWidget(self.read_out, 2)
        side, self._seen = QWidget(), self._right()
        side.setFixedWidth(self._px * _LEFT)
        side.setLayout(left)
        left.setContentsMargins(0, 0, 0, 0)
        self._side = side
        inside = QHBoxLayout(self)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(20)
        inside.addWidget(side)
        right = QVBoxLayout()
        right.addWidget(self.nothing, 0, Qt.AlignmentFlag.AlignTop)
        right.addWidget(self._seen, 1)
        inside.addLayout(right, 1)

    def _right(self) -> QSplitter:
        above = QWidget()
        upper = QVBoxLayout(above)
        upper.setContentsMargins(0, 0, 0, 0)
        upper.addWidget(self.overlay, 1)
        upper.addWidget(self.note)
        beside = QWidget()
        lower = QVBoxLayout(beside)
        lower.setContentsMargins(0, 0, 0, 0)
        lower.addWidget(self.beside_note)
        lower.addWidget(self.beside, 1)
        for page, name in (
            (self.figures, said("Figures")),
            (beside, said("Set beside the first")),
            (self.single, said("Each by itself")),
            (self.limits, said("What limits")),
            (self.pace, said("Pace that holds")),
            (self.history, said("History")),
        ):
            self.tabs.addTab(page, name)
        self.tabs.tabBar().setDrawBase(False)
        made = QSplitter(Qt.Orientation.Vertical)
        made.setChildrenCollapsible(False)
        made.setHandleWidth(10)
        made.addWidget(above)
        made.addWidget(self.tabs)
        made.setSizes([500, 340])  # of any height, in this proportion
        made.setStretchFactor(0, 5)
        made.setStretchFactor(1, 4)
        return made
