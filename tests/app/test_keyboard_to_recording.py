"""From keys to what is recorded and shown: lactate and RPE by lane number, bouts, undo."""

from collections.abc import Callable, Iterator
from contextlib import nullcontext
from random import Random

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from livemon.app.desk import LiveDesk
from livemon.app.live import Live
from livemon.events import Athlete, Event, Head, Mark
from livemon.link.clocks import Clocks
from livemon.monitor.session import Session
from livemon.monitor.snapshot import BoutState, SessionSnapshot
from livemon.record.side_lines import SideLine
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ViewSettings

HEAD = Head(
    "2026-11-25T10:00:00+00:00", "s", tuple(Athlete(f"a{n}", f"Lane {n}") for n in range(1, 6)), ()
)
SHIFT = Qt.KeyboardModifier.ShiftModifier


class Journal:
    """Keeps what it is given."""

    def __init__(self) -> None:
        self.events: list[Mark] = []

    def append(self, event: Event, *, now_s: float) -> None:
        assert isinstance(event, Mark)
        self.events.append(event)

    def note(self, side: SideLine, *, now_s: float) -> None:
        """Nothing is warned of here."""

    def tick(self, *, now_s: float) -> None:
        """There is nothing to look after."""

    def close(self, *, now_s: float) -> None:
        """There is nothing to put away."""


class Floor:
    """A live session without sensors that is not run, only asked; stands for the engine, too."""

    def __init__(self) -> None:
        self._journal = Journal()
        self._t_ns = 10_000_000_000
        self.live = Live(
            HEAD,
            (),
            nullcontext,  # type: ignore[arg-type] # never opened
            (),
            host="h",
            now_ns=self._now_ns,
            chance=Random(1),
            clocks=lambda: Clocks(0, 0, None),
            journal=self._journal,
        )

    @property
    def events(self) -> list[Mark]:
        return self._journal.events

    def call(self, function: Callable[[], object]) -> None:
        function()

    def cancel(self) -> None:
        """There is nothing to end."""

    running = False

    def latest(self) -> SessionSnapshot:
        session = Session(HEAD)
        for event in self.events:
            session.feed(event)
        return session.snapshot()

    def _now_ns(self) -> int:
        self._t_ns += 1_000_000_000
        return self._t_ns


@pytest.fixture
def floor() -> Floor:
    return Floor()


@pytest.fixture
def window(floor: Floor) -> Iterator[LiveWindow]:
    application = QApplication.instance() or QApplication([])
    desk = LiveDesk(floor, floor.live)  # type: ignore[arg-type] # without a thread
    window = LiveWindow(floor.latest, desk, ViewSettings(), marks=desk, play=lambda _: None)
    window.resize(1366, 768)
    window.show()
    window.activateWindow()
    assert QTest.qWaitForWindowActive(window)
    window.refresh()
    yield window
    window.close()
    window.deleteLater()
    application.processEvents()


def press(window: LiveWindow, key: Qt.Key, modifier: Qt.KeyboardModifier | None = None) -> None:
    QTest.keyClick(window, key, modifier or Qt.KeyboardModifier.NoModifier)
    window.refresh()


def entered(window: LiveWindow, text: str) -> None:
    press(window, Qt.Key.Key_M)
    line = QApplication.focusWidget()
    QTest.keyClicks(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)
    window.refresh()


def bouts(floor: Floor) -> list[BoutState | None]:
    return [lane.bout for lane in floor.latest().lanes]


def test_lactate_and_exertion_by_lane_number(window: LiveWindow, floor: Floor) -> None:
    entered(window, "3 la 4,2 earlobe")
    entered(window, "2,5 rpe 7.5")
    entered(window, "la 2.1")

    assert [(m.athlete, m.kind, dict(m.details)) for m in floor.events] == [
        ("a3", "lactate", {"lactate_mmol_l": 4.2, "sampling_site": "earlobe"}),
        ("a2", "rpe", {"rpe_cr10": 7.5}),
        ("a5", "rpe", {"rpe_cr10": 7.5}),
        ("a1", "lactate", {"lactate_mmol_l": 2.1}),
    ]


def test_bouts_of_chosen_lanes_begin_and_end(window: LiveWindow, floor: Floor) -> None:
    entered(window, "1,3 bout sled push")
    working = [lane is not None and not lane.resting for lane in bouts(floor)]
    assert working == [True, False, True, False, False]
    press(window, Qt.Key.Key_U)
    assert bouts(floor) == [None] * 5, "one key takes back what one line made"
    entered(window, "1,3 bout sled push")
    assert [lane.kind for lane in bouts(floor) if lane] == ["sled push", "sled push"]

    entered(window, "3 end")
    first, third = bouts(floor)[0], bouts(floor)[2]
    assert first is not None
    assert third is not None
    assert (first.resting, third.resting) == (False, True)
    press(window, Qt.Key.Key_Space, SHIFT)
    resting = [lane is not None and lane.resting for lane in bouts(floor)]
    assert resting[0]
    assert resting[2]


def test_the_last_mark_is_taken_back_and_then_the_one_before(
    window: LiveWindow, floor: Floor
) -> None:
    press(window, Qt.Key.Key_Space)
    press(window, Qt.Key.Key_Down)
    press(window, Qt.Key.Key_Space)
    assert [lane is not None for lane in bouts(floor)][:2] == [True, True]

    press(window, Qt.Key.Key_U)
    assert [lane is not None for lane in bouts(floor)][:2] == [True, False]
    press(window, Qt.Key.Key_U)
    assert bouts(floor) == [None] * 5
    assert len(floor.events) == 4, "what was marked stays in the recording"


def test_what_cannot_be_is_refused_in_words_and_written_nowhere(
    window: LiveWindow, floor: Floor
) -> None:
    entered(window, "9 la 4")
    line = QApplication.focusWidget()
    assert "there is no lane 9" in line.accessibleDescription()
    assert floor.events == []
