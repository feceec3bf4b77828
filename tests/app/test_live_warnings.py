"""Warnings of a live session are written down with their evidence and what became of them."""

import asyncio
import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from live_gym import live_of, virtual_time

from livemon.app.cli import main
from livemon.app.gym import gym_of
from livemon.app.headless import changes_of, snapshots_of
from livemon.app.live import Live
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.monitor.payload import snapshot_line
from livemon.record.reader import open_recording
from livemon.record.warning_lines import Happened
from livemon.record.warning_log import warning_log
from livemon.record.writer import Journal
from livemon.synthetic.script import Phase, SitePhase, ramp
from livemon.synthetic.sessions import OVER_THE_LINE
from livemon.warn.priority import Priority

_THIGH = SitePhase(55.0, tau_s=12.0, legs=ramp(-9.0, after_s=60.0))
DRAINING = replace(
    OVER_THE_LINE,
    phases=(
        Phase("rest", False, 40.0, 74.0, (SitePhase(68.0), SitePhase(72.0))),
        Phase("sled push", True, 200.0, 148.0, (_THIGH, SitePhase(70.0, tau_s=25.0)), 0.3),
    ),
)


def recorded(path: Path, seconds: float, by_hand: Callable[[Live], bool]) -> list[str]:
    """Run it on virtual time; `by_hand` is asked each second until it has done its work."""
    gym = gym_of(DRAINING, 1, seed=3)
    lines: list[str] = []

    async def run() -> None:
        loop = virtual_time()
        live = live_of(
            gym,
            loop,
            journal=Journal(path, gym.head, now_s=0.0),
            each_tick=lambda session: lines.append(snapshot_line(session.snapshot())),
        )
        task, done = asyncio.create_task(live.run()), False
        while loop.time() < seconds:
            await asyncio.wait({task}, timeout=1.0)
            done = done or by_hand(live)
        task.cancel()
        await asyncio.wait({task})

    run_virtually(run())
    return lines


def seen_when_it_is_on(live: Live) -> bool:
    assert live.latest is not None
    (lane,) = live.latest.lanes
    warnings = [site.warning for site in lane.state.sites if site.warning is not None]
    if any(warning.priority is not Priority.INFORMATION for warning in warnings):
        live.handled(lane.athlete, Happened.SEEN)
        live.handled(lane.athlete, Happened.ASIDE, for_s=300.0)
        return True
    return False


def test_each_warning_is_in_the_file_and_the_replay_is_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "session.jsonl"
    lines = recorded(path, 220.0, seen_when_it_is_on)

    opened = open_recording(path)
    assert list(snapshots_of(opened.head, opened.events())) == lines
    assert opened.problems.bad == 0
    told = [json.loads(line) for line in changes_of(opened.head, opened.events())]
    begun = [change for change in told if change["type"] == "warning_on"]
    log = warning_log(path)
    assert [(entry.on.t_ns / 1e9, entry.on.site) for entry in log] == [
        (change["t_s"], change["site"]) for change in begun
    ]
    first = log[0]
    assert first.on.site == "left thigh"
    assert first.on.fall_rate_pct_per_min == begun[0]["fall_rate_pct_per_min"]
    assert first.seen_ns is not None
    assert 0 <= first.seen_ns - first.on.t_ns < 2_000_000_000
    assert first.quiet

    assert main(["library", "warnings", str(path)]) == 0
    said = capsys.readouterr().out
    assert "Lane 1" in said
    assert "Left thigh falling" in said
    assert "; seen after " in said
    assert main(["library", "warnings", str(path), "--json"]) == 0
    first_json = json.loads(capsys.readouterr().out.splitlines()[0])
    assert first_json["on_s"] == first.on.t_ns / 1e9
    assert first_json["seen_s"] == first.seen_ns / 1e9


def test_a_recording_without_warnings_says_where_to_find_them_anew(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "session.jsonl"
    recorded(path, 5.0, lambda _: True)

    assert main(["library", "warnings", str(path)]) == 0
    assert "livemon replay --json" in capsys.readouterr().out
