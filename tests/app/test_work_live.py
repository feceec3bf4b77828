"""Foot sensors and machines on the simulated radio, from the link to the pace that holds."""

import argparse
import asyncio
from pathlib import Path

import pytest
from live_gym import live_of, virtual_time

from livemon.analyse.bout import Origin
from livemon.analyse.gather import records_of
from livemon.analyse.session import analyse_athlete
from livemon.app.cli import main
from livemon.app.commands.scan import kinds
from livemon.app.gym import Gym, gym_of
from livemon.app.headless import snapshots_of
from livemon.app.kit_options import add_kit_options, kit_of
from livemon.app.live import Live
from livemon.app.script_marks import ScriptMarks
from livemon.decode.samples import IntensitySource
from livemon.errors import UsageError
from livemon.events import Mark
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.link.standard_work import WORK_KINDS
from livemon.record.reader import open_recording
from livemon.record.writer import Journal
from livemon.series.effort import Effort
from livemon.synthetic.effort import Device
from livemon.synthetic.pace_steps import HOLDS_M_PER_S, PACE_STEPS
from livemon.synthetic.script import Phase
from livemon.synthetic.sessions import OVER_THE_LINE

# Bluetooth SIG, Assigned Numbers, 3.4: Running Speed and Cadence.
RSC_SERVICE = "00001814-0000-1000-8000-00805f9b34fb"


def lived(gym: Gym, path: Path, seconds: float, phases: tuple[Phase, ...] = ()) -> Live:
    """Run a live session on virtual time; bouts are marked as `phases` have them."""
    journal = Journal(path, gym.head, now_s=0.0)

    async def run() -> Live:
        loop = virtual_time()
        live = live_of(gym, loop, journal=journal)
        live.on_step(ScriptMarks(live, phases, loop.now_ns).step)
        task = asyncio.create_task(live.run())
        await asyncio.wait({task}, timeout=seconds)
        task.cancel()
        await asyncio.wait({task})
        return live

    return run_virtually(run())


def test_one_athletes_foot_sensor_is_read_and_is_nobody_elses(tmp_path: Path) -> None:
    gym = gym_of(OVER_THE_LINE, 2, 3, work={1: Device.FOOT})
    live = lived(gym, tmp_path / "s.jsonl", 90.0)

    assert live.latest is not None
    first, second = live.latest.lanes
    by_quantity = {state.effort: state for state in first.effort}
    assert by_quantity[Effort.SPEED].value == pytest.approx(3.0, rel=0.1)
    assert by_quantity[Effort.SPEED].source is IntensitySource.RUNNING
    assert by_quantity[Effort.SPEED].sensor == "1-foot"
    assert first.state.heart_rate.bpm is not None
    assert second.effort == ()


def test_a_rowing_machine_tells_power_and_a_replay_tells_the_same(tmp_path: Path) -> None:
    path = tmp_path / "s.jsonl"
    live = lived(gym_of(OVER_THE_LINE, 1, 3, work={1: Device.ROWER}), path, 90.0)

    assert live.latest is not None
    (power, *_) = live.latest.lanes[0].effort
    assert (power.effort, power.source) == (Effort.POWER, IntensitySource.ROWER)
    recording = open_recording(path)
    *_, last = snapshots_of(recording.head, recording.events())
    assert f'"sensor":"{power.sensor}"' in last
    assert recording.problems.bad == 0


@pytest.fixture(scope="module")
def steps(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A recording of four bouts at four speeds, simulated from the radio on."""
    path = tmp_path_factory.mktemp("steps") / "s.jsonl"
    gym = gym_of(PACE_STEPS, 1, 3, work={1: Device.FOOT})
    lived(gym, path, sum(phase.seconds for phase in PACE_STEPS.phases), PACE_STEPS.phases)
    return path


def test_the_script_marks_its_bouts(steps: Path) -> None:
    recording = open_recording(steps)
    marks = [event for event in recording.events() if isinstance(event, Mark)]
    (record,) = records_of(recording.head, recording.events())

    assert [mark.kind for mark in marks] == ["bout_start", "recovery_start"] * 4
    work = [bout for bout in record.bouts if bout.judged]
    assert [round(bout.duration_s) for bout in work] == [300] * 4
    measured = [bout.intensity for bout in work]
    assert all(one is not None and one.origin is Origin.MEASURED for one in measured)


def test_the_pace_that_holds_is_found_in_a_simulated_recording(steps: Path) -> None:
    """The script's own crossing lies in the interval, and nobody typed a speed."""
    recording = open_recording(steps)
    (record,) = records_of(recording.head, recording.events())
    analysis = analyse_athlete(record)

    paces = {(one.kind, one.site): one.pace.intensity for one in analysis.paces}
    thigh = paces["rowing", "left thigh"]
    assert thigh.low is not None
    assert thigh.high is not None
    assert thigh.low <= HOLDS_M_PER_S <= thigh.high
    assert thigh.high - thigh.low < 0.4
    assert thigh.unit == "m/s"


def test_the_command_says_that_the_speeds_were_measured(
    steps: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["bouts", str(steps)]) == 0

    said = capsys.readouterr().out
    assert said.count("m/s (measured") == 4
    assert "3.6" in said


def test_a_scan_says_what_such_a_device_is() -> None:
    assert kinds()[RSC_SERVICE] == "foot sensor"
    assert set(WORK_KINDS) <= set(kinds())


def options(*words: str) -> argparse.Namespace:
    parser = argparse.ArgumentParser(exit_on_error=False)
    add_kit_options(parser)
    return parser.parse_args(words)


def test_the_command_line_names_sensors_and_a_wheel() -> None:
    kit = kit_of(
        options("--strap", "Belt", "--intensity", "Wheel 7", "--intensity", "C0:00:00:00:00:07",
                "--wheel", "2.105"),
        "here", (),
    )  # fmt: skip

    assert [one.wheel_m for one in kit.assigned] == [None, 2.105, 2.105]
    assert [one.work for one in kit.registry] == [False, True, True]
    assert RSC_SERVICE in kit.plans[1].services
    assert kit.plans[0].first_of == ()


@pytest.mark.parametrize("typed", ["2105", "0", "-2", "two", "", "nan"])
def test_a_wheel_in_other_units_is_refused(typed: str) -> None:
    with pytest.raises(argparse.ArgumentError, match=r"2\.105"):
        options("--intensity", "Wheel", "--wheel", typed)


def test_a_sensor_alone_is_enough_and_none_is_not() -> None:
    assert len(kit_of(options("--intensity", "Pod"), "here", ()).sensors) == 1
    with pytest.raises(UsageError, match="no sensor is named"):
        kit_of(options(), "here", ())
