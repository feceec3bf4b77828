"""Draw the pictures of docs/screens.md from the invented recordings, without a screen.

QT_QPA_PLATFORM=offscreen python docs/pictures/draw.py
"""

import os
from collections.abc import Callable
from dataclasses import replace
from itertools import count
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import Qt  # noqa: TID251 - draws the window itself
from PySide6.QtGui import QImage  # noqa: TID251 - the same
from PySide6.QtTest import QTest  # noqa: TID251 - presses a key of it
from PySide6.QtWidgets import QApplication, QLabel  # noqa: TID251 - the same

from livemon.app.plan_desk import PlanDesk
from livemon.app.plan_shelf import shelf
from livemon.app.trainings import Trainings
from livemon.estimate.balance import Balance
from livemon.events import Mark
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.plan import Plan, Step, StepKind
from livemon.monitor.plan_runner import PlanRunner
from livemon.monitor.session import Session
from livemon.monitor.snapshot import LaneState, SessionSnapshot, Trust
from livemon.record.reader import open_recording
from livemon.view.qt.plan_panel import PlanPanel
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ThemeChoice, ViewSettings
from livemon.warn.priority import Priority

HERE = Path(__file__).parent
RECORDINGS = HERE.parent.parent / "replay_fixtures"
NS_PER_S = 1_000_000_000

#: When a moment has come.
Sign = Callable[[LaneState], bool]


class Shelf:
    """Offers the plans that come with livemon; nobody takes one."""

    names: dict[str, str] = {}  # noqa: RUF012 - nobody is named

    def choose_plan(self, whom: str | None, plan: Plan | None) -> None:
        """Nobody does."""


class Nobody:
    """Nobody asks for anything while pictures are drawn."""

    def begin_bout(self, athlete: str | None, kind: str, planned_s: float | None) -> None:
        """Nobody does."""

    def end_bout(self, athlete: str | None) -> None:
        """Nobody does."""

    def note(self, athlete: str | None, text: str) -> None:
        """Nobody does."""

    def undo(self) -> None:
        """Nobody does."""

    def stop(self) -> None:
        """Nobody does."""

    def finished(self) -> bool:
        """Nothing has to be put away."""
        return True


def after(t_s: float) -> Sign:
    """Return the sign that so much time has passed."""
    return lambda lane: lane.state.t_s >= t_s


def warned(lane: LaneState) -> bool:
    """Whether a warning that calls somebody has been on for a while."""
    warnings = (site.warning for site in lane.state.sites)
    on = [w.on_t_s for w in warnings if w is not None and w.priority is not Priority.INFORMATION]
    return bool(on) and lane.state.t_s - min(on) > 12


def silent(lane: LaneState) -> bool:
    """Whether all muscle sensors have been silent for a while."""
    return all(site.trust is Trust.STALE and (site.age_s or 0.0) > 8 for site in lane.state.sites)


def refilling(lane: LaneState) -> bool:
    """Whether a muscle refills in a recovery."""
    resting = lane.bout is not None and lane.bout.resting
    return resting and lane.state.t_s > 660 and lane.state.sites[0].balance is Balance.SUPPLY_AHEAD


def strap_silent(lane: LaneState) -> bool:
    """Whether the strap is silent."""
    return lane.state.heart_rate.trust is Trust.STALE


#: A class put together from moments of three recordings of one invented athlete.
LANES: tuple[tuple[str, Sign], ...] = (
    ("over-the-line", after(360)),
    ("in-balance", after(470)),
    ("over-the-line", warned),
    ("in-balance", after(690)),
    ("trouble", strap_silent),
    ("in-balance", after(950)),
)


#: What the invented muscles have at rest, in %.
RESTING = (("left thigh", 68.0), ("right forearm", 72.0))

#: The work of the recording.
PLAN = Plan(
    "Kinds of work",
    "",
    (
        Step(StepKind.WARM_UP, duration_s=60),
        Step(StepKind.BOUT, "rowing", 240),
        Step(StepKind.RECOVERY, duration_s=100),
        Step(StepKind.BOUT, "step-ups", 240),
        Step(StepKind.RECOVERY, duration_s=100),
        Step(StepKind.BOUT, "sled push", 240),
        Step(StepKind.RECOVERY, refill_pct=95, limit_s=300),
        Step(StepKind.BOUT, "heavier sled", 240),
    ),
)


def moment(recording: str, sign: Sign) -> SessionSnapshot:
    """Return the session as it was when `sign` was first seen; looked for once a second."""
    played = open_recording(RECORDINGS / f"{recording}.jsonl")
    session = Session(played.head)
    due_ns = 0
    for event in played.events():
        if event.t_ns >= due_ns:
            due_ns = event.t_ns + NS_PER_S
            snapshot = session.snapshot()
            if sign(snapshot.lanes[0]):
                return snapshot
        session.feed(event)
    raise SystemExit(f"{recording}: that moment never comes")


def by_plan(sign: Sign) -> SessionSnapshot:
    """Return the session as it would have been if a plan had marked it, when `sign` is seen."""
    played = open_recording(RECORDINGS / "over-the-line.jsonl")
    session, runner = Session(played.head), PlanRunner(PLAN, 0.0)
    due_ns, numbers = 0, count(1)
    for site, rest_pct in RESTING:
        details = (("site", site), ("smo2_pct", rest_pct))
        session.feed(Mark(0, f"p{next(numbers)}", None, MarkKind.BASELINE_RESULT, details))
    for event in played.events():
        if event.t_ns >= due_ns:
            due_ns = event.t_ns + NS_PER_S
            for mark in runner.step(event.t_ns / NS_PER_S, None):
                name = f"p{next(numbers)}"
                session.feed(Mark(event.t_ns, name, None, mark.kind, mark.details))
            snapshot = session.snapshot()
            if sign(snapshot.lanes[0]):
                return snapshot
        if not isinstance(event, Mark):
            session.feed(event)
    raise SystemExit("the plan: that moment never comes")


def gathered() -> SessionSnapshot:
    """Return one class made of single lanes."""
    lanes: list[LaneState] = []
    for number, (recording, sign) in enumerate(LANES, start=1):
        lane = moment(recording, sign).lanes[0]
        lanes.append(replace(lane, athlete=f"a{number}", name=f"Lane {number}"))
    return SessionSnapshot(0.0, "", tuple(lanes), (), False)


def draw(
    name: str,
    snapshot: SessionSnapshot,
    theme: ThemeChoice,
    size: tuple[int, int] = (1366, 768),
) -> None:
    """Save the window showing `snapshot`, without a channel that nobody sees."""
    window = LiveWindow(lambda: snapshot, Nobody(), ViewSettings(theme=theme, motion=False))
    window.resize(*size)
    window.show()
    window.refresh()
    QApplication.processEvents()
    picture = window.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    picture.save(str(HERE / f"{name}.png"), quality=0)
    window.close()


def draw_plans(name: str, snapshot: SessionSnapshot, theme: ThemeChoice) -> None:
    """Save the window with the list of plans over it."""
    settings = ViewSettings(theme=theme, motion=False)
    trainings = Trainings()
    desk = PlanDesk(trainings, Shelf(), lambda wish: wish(), place=HERE / "your own folder")
    window = LiveWindow(lambda: snapshot, Nobody(), settings, plans=desk)
    window.resize(1366, 768)
    window.show()
    window.refresh()
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    panel = window.findChildren(PlanPanel)[0]
    QTest.keyClick(window, Qt.Key.Key_P)
    trainings.choose(None, shelf(HERE)[0].plan, 0.0)
    panel.show_standing()
    for label in panel.findChildren(QLabel):
        label.setText(label.text().replace(f"{HERE}/", ""))
    QApplication.processEvents()
    picture = window.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    picture.save(str(HERE / f"{name}.png"), quality=0)
    window.close()


def main() -> None:
    """Draw them all."""
    application = QApplication([])
    draw("pace-dark", moment("over-the-line", warned), ThemeChoice.DARK)
    draw("pace-light", moment("in-balance", refilling), ThemeChoice.LIGHT)
    draw("pace-stale", moment("trouble", silent), ThemeChoice.DARK)
    draw("plan-soon-light", by_plan(after(972)), ThemeChoice.LIGHT)
    draw("plan-rest-dark", by_plan(after(998)), ThemeChoice.DARK)
    draw_plans("plans-light", gathered(), ThemeChoice.LIGHT)
    draw("lanes-dark", gathered(), ThemeChoice.DARK, (1100, 620))
    application.quit()


if __name__ == "__main__":
    main()
