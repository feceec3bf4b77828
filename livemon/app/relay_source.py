"""What a relay reads: its own sensors, an invented gym, or a recording."""

import argparse
import platform
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, replace
from random import Random
from typing import Final

from livemon.app.engine import Program
from livemon.app.find_recording import named_recording
from livemon.app.gym import HOST, gym_of
from livemon.app.kit_options import kit_of
from livemon.app.live import Live
from livemon.app.live_ends import Recorder
from livemon.app.places import data_folder, host_id
from livemon.app.relay_play import Played
from livemon.app.relay_words import linked_sensors
from livemon.app.remembered import load_sensors, save_sensors
from livemon.app.session_start import new_session, started_utc
from livemon.errors import UsageError
from livemon.events import Head
from livemon.link.bleak_radio import BleakRadio
from livemon.link.clocks import read_clocks
from livemon.link.identity import Registry
from livemon.link.plan import Plan
from livemon.link.radio import Radio
from livemon.synthetic.sessions import TRAININGS

_MOST_ATHLETES: Final = 24

#: The session's clock.
NowNs = Callable[[], int]


@dataclass(frozen=True, slots=True)
class RelaySource:
    """Where a relay's events come from.

    Attributes:
        head: under the ids of this computer.
        program: makes what reads them into a recorder.
        sensors: how many sensors there are and how many are linked; None where nobody counts.
        trouble: what is wrong with Bluetooth; empty if nothing is.
    """

    head: Head
    program: Callable[[Recorder], Program]
    sensors: Callable[[Program], tuple[int, int] | None]
    trouble: Callable[[Program], str]


def add_source_options(parser: argparse.ArgumentParser) -> None:
    """Add what to read where it is not this computer's own sensors."""
    instead = parser.add_mutually_exclusive_group()
    instead.add_argument(
        "--simulate",
        type=int,
        metavar="N",
        help="to try it: so many invented athletes on a simulated radio instead of sensors",
    )
    instead.add_argument(
        "--recording", metavar="RECORDING", help="to try it: play a recording instead of sensors"
    )
    parser.add_argument("--radio", metavar="NAME", help="which Bluetooth adapter (Linux: hci1)")


def source_of(arguments: argparse.Namespace, now_ns: NowNs) -> RelaySource:
    """Return what the options ask for.

    Raises:
        LivemonError: it can't be had.
    """
    if arguments.recording is not None:
        return _played(arguments.recording, now_ns)
    if arguments.simulate is not None:
        return _simulated(arguments.simulate, now_ns)
    return _own_sensors(arguments, now_ns)


def _played(name: str, now_ns: NowNs) -> RelaySource:
    recording = named_recording(name)
    return RelaySource(
        replace(recording.head, started_utc=started_utc(), session=new_session()),
        lambda recorder: Played(recording.events(), recorder, now_ns=now_ns),
        sensors=lambda _: None,
        trouble=lambda _: "",
    )


def _simulated(athletes: int, now_ns: NowNs) -> RelaySource:
    if not 1 <= athletes <= _MOST_ATHLETES:
        raise UsageError(f"--simulate: expected 1 to {_MOST_ATHLETES}, found {athletes}.")
    gym = gym_of(TRAININGS["over-the-line"], athletes, seed=1)
    head = replace(gym.head, started_utc=started_utc(), session=new_session())
    return _read(head, gym.plans, lambda: gym.radio(now_ns), gym.registry, HOST, now_ns)


def _own_sensors(arguments: argparse.Namespace, now_ns: NowNs) -> RelaySource:
    host = host_id()
    kit = kit_of(arguments, host, load_sensors(data_folder()))
    head = Head(
        started_utc(), new_session(), (kit.athlete,), kit.sensors, kit.adapters, kit.assigned
    )
    radio = BleakRadio(
        now_ns,
        system=platform.system(),
        announce=lambda line: print(line, file=sys.stderr, flush=True),
        adapter=arguments.radio,
    )
    return _read(
        head,
        kit.plans,
        lambda: nullcontext(radio),
        kit.registry,
        host,
        now_ns,
        on_learned=lambda registry: save_sensors(data_folder(), registry),
    )


def _read(
    head: Head,
    plans: tuple[Plan, ...],
    radio: Callable[[], AbstractContextManager[Radio]],
    registry: Registry,
    host: str,
    now_ns: NowNs,
    on_learned: Callable[[Registry], None] = lambda _: None,
) -> RelaySource:
    def program(recorder: Recorder) -> Live:
        return Live(
            head,
            plans,
            radio,
            registry,
            host=host,
            now_ns=now_ns,
            chance=Random(),
            journal=recorder,
            on_learned=on_learned,
            clocks=lambda: read_clocks(now_ns),
        )

    return RelaySource(
        head,
        program,
        sensors=lambda reading: linked_sensors(reading.latest),
        trouble=lambda reading: reading.trouble if isinstance(reading, Live) else "",
    )
