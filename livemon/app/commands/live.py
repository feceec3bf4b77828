"""`livemon live`: read a strap and oximeters over Bluetooth."""

import argparse
import platform
import sys
import time
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from datetime import UTC, datetime
from random import Random
from typing import Final
from uuid import uuid4

from livemon.app.desk import LiveDesk
from livemon.app.engine import Engine
from livemon.app.gym import HOST, gym_of
from livemon.app.journaling import Journaling, recording_path
from livemon.app.kit_options import add_kit_options, kit_of
from livemon.app.live import Live
from livemon.app.options import add_view_options, seconds, settings_of
from livemon.app.places import data_folder, host_id, recordings_folder
from livemon.app.remembered import load_sensors, save_sensors
from livemon.app.show import Wishes, watch, window_possible
from livemon.errors import UsageError
from livemon.events import Head
from livemon.link.bleak_radio import BleakRadio
from livemon.link.clocks import read_clocks
from livemon.link.identity import Registry
from livemon.link.plan import Plan
from livemon.link.radio import Radio
from livemon.synthetic.sessions import TRAININGS

#: Long enough to put a strap on, short enough for a script to learn that nobody did.
_WAIT_S: Final = 60.0

OpenRadio = Callable[[], AbstractContextManager[Radio]]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    add_kit_options(parser)
    parser.add_argument(
        "--simulated",
        choices=list(TRAININGS),
        metavar="TRAINING",
        help=f"read invented sensors on a simulated radio: {', '.join(TRAININGS)}",
    )
    parser.add_argument("--radio", metavar="NAME", help="which Bluetooth adapter (Linux: hci1)")
    keep = parser.add_mutually_exclusive_group()
    keep.add_argument("--record", metavar="FILE", help="where to record (default: your own folder)")
    keep.add_argument("--no-record", action="store_true", help="write nothing down")
    parser.add_argument(
        "--wait",
        type=seconds,
        metavar="SECONDS",
        help="give up if nothing has come from any sensor by then (default: "
        f"{_WAIT_S:g} in the terminal, never in the window)",
    )
    add_view_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    start_ns = time.perf_counter_ns()

    def now_ns() -> int:
        return time.perf_counter_ns() - start_ns

    window = window_possible(not arguments.no_window)
    head, plans, registry, host, radio = _kit(arguments, now_ns)
    journal = None
    if not arguments.no_record:
        path = recording_path(arguments.record, recordings_folder(), head)
        journal = Journaling(path, head)
        print(f"Recording to {path}", file=sys.stderr)
    live = Live(
        head,
        plans,
        radio,
        registry,
        host=host,
        now_ns=now_ns,
        chance=Random(),
        journal=journal,
        on_learned=_save if arguments.simulated is None else lambda _: None,
        clocks=lambda: read_clocks(now_ns),
        give_up_s=arguments.wait or (None if window else _WAIT_S),
    )
    engine = Engine(live)

    def notices() -> tuple[str, ...]:
        recording = "not recorded" if journal is None else journal.words()
        return tuple(words for words in (live.trouble, recording) if words)

    wishes = Wishes(window, settings_of(arguments), notices)
    return watch(engine, LiveDesk(engine, live), wishes)


def _kit(
    arguments: argparse.Namespace, now_ns: Callable[[], int]
) -> tuple[Head, tuple[Plan, ...], Registry, str, OpenRadio]:
    """Return who is there, how to read them, and by which radio."""
    started_utc = datetime.now(UTC).isoformat(timespec="seconds")
    session = uuid4().hex[:8]
    if arguments.simulated is not None:
        if arguments.strap or arguments.oximeter or arguments.adapter:
            raise UsageError("--simulated brings its own sensors; name none beside it.")
        gym = gym_of(TRAININGS[arguments.simulated], athletes=1, seed=1)
        head = Head(
            started_utc, session, gym.head.athletes, gym.head.sensors, gym.head.adapters,
            gym.head.assigned,
        )  # fmt: skip
        return head, gym.plans, gym.registry, HOST, lambda: gym.radio(now_ns)
    host = host_id()
    kit = kit_of(arguments, host, load_sensors(data_folder()))
    head = Head(started_utc, session, (kit.athlete,), kit.sensors, kit.adapters, kit.assigned)
    radio = BleakRadio(
        now_ns,
        system=platform.system(),
        announce=lambda line: print(line, file=sys.stderr, flush=True),
        adapter=arguments.radio,
    )
    return head, kit.plans, kit.registry, host, lambda: nullcontext(radio)


def _save(registry: Registry) -> None:
    """Remember an address that was learned: the next search is shorter."""
    save_sensors(data_folder(), registry)
