"""`livemon simulate`: an invented gym whose sensors are on a simulated radio."""

import argparse
import asyncio
import sys
import time
from dataclasses import replace
from random import Random

from livemon.app.bluez_gym import serve
from livemon.app.gym import HOST, Gym, Mishap, gym_of
from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_room import KitRoom
from livemon.app.kit_start import new_id
from livemon.app.live import Live
from livemon.app.options import add_view_options, seconds
from livemon.app.plan_option import add_plan_option, plan_of
from livemon.app.script_marks import ScriptMarks
from livemon.app.session_start import (
    add_record_options,
    journal_of,
    new_session,
    started_utc,
    watch_live,
)
from livemon.app.show import window_possible
from livemon.app.trainings import Trainings
from livemon.decode.shipped import shipped_adapters
from livemon.errors import UsageError
from livemon.link.clocks import read_clocks
from livemon.link.identity import measuring_work
from livemon.link.simulated.faults import Fault
from livemon.synthetic.effort import Device
from livemon.synthetic.pace_steps import PACE_STEPS
from livemon.synthetic.sessions import TRAININGS

_MOST_ATHLETES = 24
_TRAININGS = {**TRAININGS, PACE_STEPS.name: PACE_STEPS}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument(
        "--athletes", type=int, default=1, metavar="N", help=f"1 to {_MOST_ATHLETES} (default 1)"
    )
    parser.add_argument(
        "--training",
        choices=list(_TRAININGS),
        default="over-the-line",
        help="what they do (default over-the-line)",
    )
    parser.add_argument(
        "--intensity",
        choices=[device.value for device in Device],
        help="measure everybody's work, too: by a foot sensor, or on a rowing machine",
    )
    parser.add_argument(
        "--mark", action="store_true", help="mark bouts and recoveries as the script has them"
    )
    parser.add_argument("--seed", type=int, default=1, help="another seed, other athletes")
    parser.add_argument(
        "--fault",
        action="append",
        default=[],
        type=mishap,
        metavar="NAME:SENSOR:AT[:FOR]",
        help="let something go wrong, as drop:thigh:60:10 (seconds); may be repeated. Names: "
        + ", ".join(fault.value for fault in Fault),
    )
    parser.add_argument(
        "--bluez",
        action="store_true",
        help="Linux: pretend to be the system's Bluetooth, for another livemon to read",
    )
    add_plan_option(parser)
    add_record_options(parser)
    add_view_options(parser)


def mishap(text: str) -> Mishap:
    """Read what is to go wrong."""
    parts = text.split(":")
    names = {fault.value: fault for fault in Fault}
    if len(parts) not in {3, 4} or parts[0] not in names:
        raise argparse.ArgumentTypeError(
            f"expected NAME:SENSOR:AT or NAME:SENSOR:AT:FOR with a known name, found {text!r}"
        )
    for_s = seconds(parts[3]) if len(parts) == 4 else 10.0
    return Mishap(names[parts[0]], parts[1], seconds(parts[2]), for_s)


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    if not 1 <= arguments.athletes <= _MOST_ATHLETES:
        raise UsageError(f"--athletes: expected 1 to {_MOST_ATHLETES}, found {arguments.athletes}.")
    training = _TRAININGS[arguments.training]
    numbers = range(1, arguments.athletes + 1)
    device = None if arguments.intensity is None else Device(arguments.intensity)
    work = {} if device is None else dict.fromkeys(numbers, device)
    gym = gym_of(training, arguments.athletes, arguments.seed, tuple(arguments.fault), work)
    if not arguments.bluez:
        return _watch(gym, arguments)
    if arguments.fault:
        raise UsageError("--fault works on the simulated radio only, not with --bluez.")
    with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
        runner.run(serve(gym, lambda line: print(line, flush=True)))
    return 0


def _watch(gym: Gym, arguments: argparse.Namespace) -> int:
    start_ns = time.perf_counter_ns()

    def now_ns() -> int:
        return time.perf_counter_ns() - start_ns

    head = replace(gym.head, started_utc=started_utc(), session=new_session())
    training = Trainings(plan_of(arguments))
    journal = journal_of(arguments, head)
    live = Live(
        head,
        gym.plans,
        lambda: gym.radio(now_ns),
        gym.registry,
        host=HOST,
        now_ns=now_ns,
        chance=Random(arguments.seed),
        journal=journal,
        clocks=lambda: read_clocks(now_ns),
        training=training,
    )
    if arguments.mark:
        phases = _TRAININGS[arguments.training].phases
        live.on_step(ScriptMarks(live, phases, now_ns).step)
    window = window_possible(not arguments.no_window)
    print("Invented athletes on a simulated radio.", file=sys.stderr)
    adapters = KitAdapters(shipped_adapters())
    work = measuring_work(gym.registry)
    room = KitRoom(live, head, adapters, host=HOST, now_ns=now_ns, new_id=new_id, work=work)
    return watch_live(live, journal, window, arguments, training, room)
