"""A plan in a live session: it marks by itself, and its recording replays without it."""

import asyncio
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Final

from live_gym import live_of, virtual_time

from livemon.app.gym import gym_of
from livemon.app.headless import snapshots_of
from livemon.app.live import Live
from livemon.app.planned import PlannedTraining
from livemon.app.trainings import Trainings
from livemon.events import Mark
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.monitor.payload import snapshot_line
from livemon.monitor.plan import Plan, Step, StepKind
from livemon.monitor.session import Session
from livemon.monitor.snapshot import LaneState
from livemon.record.reader import open_recording
from livemon.record.writer import Journal
from livemon.synthetic.sessions import TRAININGS

#: The invented athlete rests for 60 s, rows for 240 s, and recovers for 100 s.
ROWING = Plan(
    "By refilling",
    "",
    (
        Step(StepKind.WARM_UP, duration_s=60),
        Step(StepKind.BOUT, "row", 240, band_bpm=(142, 154), load=(("load_w", 180),)),
        Step(StepKind.RECOVERY, refill_pct=98, limit_s=90),
        Step(StepKind.BOUT, "step-ups", distance_m=400),
    ),
)

TIMED: Final = replace(ROWING, steps=(*ROWING.steps[:2], Step(StepKind.RECOVERY, duration_s=60)))

#: What is done by hand, and when.
Hand = tuple[float, Callable[[Live], None]]


def begin(live: Live) -> None:
    live.mark(None, "bout_start", ())


def trained(
    path: Path, plan: Plan, seconds: float, *by_hand: Hand, athletes: int = 1
) -> tuple[list[LaneState], list[str]]:
    """Run a live session on virtual time; return the first lane and the line at every tick."""
    gym = gym_of(TRAININGS["over-the-line"], athletes, seed=3)
    lanes: list[LaneState] = []
    lines: list[str] = []
    training = Trainings(plan)

    def tick(session: Session) -> None:
        snapshot = session.snapshot()
        lanes.append(snapshot.lanes[0])
        lines.append(snapshot_line(snapshot))

    async def run() -> None:
        loop = virtual_time()
        live = live_of(
            gym,
            loop,
            journal=Journal(path, gym.head, now_s=0.0),
            each_tick=tick,
            training=training,
        )
        task = asyncio.create_task(live.run())
        for at_s, act in by_hand:
            await asyncio.wait({task}, timeout=at_s - loop.time())
            act(live)
        await asyncio.wait({task}, timeout=seconds - loop.time())
        task.cancel()
        await asyncio.wait({task})

    run_virtually(run())
    return lanes, lines


def marks(path: Path) -> list[tuple[float, str]]:
    """Return when and what was marked, beside the plan's own marks."""
    found = [event for event in open_recording(path).events() if isinstance(event, Mark)]
    return [
        (round((m.t_ns if m.at_ns is None else m.at_ns) / 1e9, 2), m.kind)
        for m in found
        if m.kind != "plan"
    ]


def test_a_plan_marks_its_bouts_and_ends_the_rest_when_the_muscles_are_full(
    tmp_path: Path,
) -> None:
    path = tmp_path / "session.jsonl"
    lanes, lines = trained(path, ROWING, 400.0, (0.52, begin), (390.0, end))

    made = marks(path)
    assert made[:4] == [
        (0.52, "warm_up_start"),
        (60.52, "bout_start"),
        (60.52, "load"),
        (300.52, "recovery_start"),
    ]
    refilled_s, kind = made[4]
    assert kind == "bout_start"
    assert 303 < refilled_s < 390, "before the limit"
    assert made[5:] == [(390.0, "bout_end")]

    resting = [lane for lane in lanes if lane.bout is not None and lane.bout.resting]
    thigh = [one for lane in resting for one in lane.refill if one.site == "left thigh"]
    shares = [one.share_pct for one in thigh]
    assert None not in shares
    assert min(s for s in shares if s) < 96
    emptiest = [min(one.share_pct or 0 for one in lane.refill) for lane in resting[-6:]]
    assert min(emptiest) >= 98, "full for three seconds"

    planned = [lane.plan for lane in lanes]
    assert planned[0] is None
    in_rest = resting[0].plan
    assert in_rest is not None
    assert (in_rest.number, in_rest.count, in_rest.refill_pct) == (3, 4, 98)
    assert in_rest.following == "step-ups, 400 m"
    last = planned[-1]
    assert last is not None
    assert (last.name, last.number) == ("By refilling", 0)

    recording = open_recording(path)
    assert list(snapshots_of(recording.head, recording.events())) == lines


def end(live: Live) -> None:
    live.mark(None, "recovery_start", ())


def test_the_key_for_bouts_moves_the_plan_on(tmp_path: Path) -> None:
    path = tmp_path / "session.jsonl"
    alone = "a1"
    steps = (
        (5.0, begin),
        (9.0, lambda live: live.mark(alone, "bout_start", ())),  # enough of warming up
        (15.0, lambda live: live.mark(alone, "recovery_start", ())),
        (18.0, lambda live: live.mark(alone, "note", (("text", "fine"),))),
        (20.0, lambda live: live.mark(alone, "plan", ())),
        (25.0, begin),  # the plan is over: marks are marks again
    )
    trained(path, TIMED, 30.0, *steps)

    assert marks(path) == [
        (5.0, "warm_up_start"),
        (9.0, "bout_start"),
        (9.0, "load"),
        (15.0, "recovery_start"),
        (18.0, "note"),
        (20.0, "recovery_end"),
        (25.0, "bout_start"),
    ]


def test_a_plan_can_be_broken_off(tmp_path: Path) -> None:
    path = tmp_path / "session.jsonl"
    steps = ((5.0, begin), (9.0, lambda live: live.mark(None, "plan", ())))
    lanes, _ = trained(path, ROWING, 12.0, *steps)

    assert marks(path) == [(5.0, "warm_up_start"), (9.0, "warm_up_end")]
    assert lanes[-1].plan is not None
    assert lanes[-1].plan.number == 0


def test_in_a_class_a_mark_for_one_leaves_the_plan_alone(tmp_path: Path) -> None:
    path = tmp_path / "session.jsonl"
    steps = (
        (5.0, lambda live: live.mark("a1", "bout_start", ())),
        (10.0, begin),
        (15.0, lambda live: live.mark("a1", "bout_end", ())),
    )
    trained(path, ROWING, 20.0, *steps, athletes=2)

    assert marks(path) == [(5.0, "bout_start"), (10.0, "warm_up_start"), (15.0, "bout_end")]


def test_it_says_that_it_waits_and_can_be_begun_at_once() -> None:
    waiting = PlannedTraining(ROWING)
    assert waiting.words == "Plan “By refilling”: begin a bout to start it"
    assert waiting.due(3.0, ()) == ()
    assert not waiting.takes("note", 3.0)

    waiting.begin(4.0)
    waiting.begin(5.0)
    assert waiting.words == ""
    assert [mark.t_s for mark in waiting.due(6.0, ())] == [4.0, 4.0]


def test_a_plan_of_ones_own_is_recorded_for_that_athlete_alone(tmp_path: Path) -> None:
    path = tmp_path / "session.jsonl"
    own = replace(TIMED, name="Own", steps=TIMED.steps[1:])
    steps: tuple[Hand, ...] = (
        (2.0, lambda live: live.choose_plan("a2", own)),
        (5.0, begin),
        (8.0, lambda live: live.mark("a2", "recovery_start", ())),
    )
    lanes, lines = trained(path, TIMED, 12.0, *steps, athletes=2)

    found = [e for e in open_recording(path).events() if isinstance(e, Mark) and e.kind != "plan"]
    assert [(m.athlete, m.kind) for m in found] == [
        ("a1", "warm_up_start"), ("a2", "bout_start"), ("a2", "load"), ("a2", "recovery_start")
    ]  # fmt: skip
    assert lanes[-1].plan is not None
    assert (lanes[-1].plan.name, lanes[-1].plan.number) == ("By refilling", 1)
    recording = open_recording(path)
    assert list(snapshots_of(recording.head, recording.events())) == lines
