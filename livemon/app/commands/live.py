"""`livemon live`: read straps and oximeters over Bluetooth, or what relays read over MQTT."""

import argparse
import platform
import sys
import time
from contextlib import nullcontext
from random import Random
from typing import Final

from livemon.app.hub_options import add_hub_options, check_no_hub_options
from livemon.app.hub_start import run_hub
from livemon.app.kit_options import add_kit_options
from livemon.app.kit_room import KitRoom
from livemon.app.kit_start import kept_people, new_id, start_of
from livemon.app.live import Live
from livemon.app.lsl_option import add_lsl_options, heard_by, live_lsl, told_to
from livemon.app.options import add_view_options, seconds
from livemon.app.places import data_folder, host_id
from livemon.app.plan_option import add_plan_option, plan_of
from livemon.app.relay_broker import broker_address
from livemon.app.remembered import load_sensors, save_sensors
from livemon.app.session_start import add_record_options, journal_of, watch_live
from livemon.app.share_hub import run_sharing_hub
from livemon.app.share_options import add_share_options, share_wish
from livemon.app.show import window_possible
from livemon.app.trainings import Trainings
from livemon.link.bleak_radio import BleakRadio
from livemon.link.clocks import read_clocks
from livemon.link.identity import measuring_work

#: Long enough to put a strap on, short enough for a script to learn that nobody did.
_WAIT_S: Final = 60.0


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    add_kit_options(parser)
    parser.add_argument("--radio", metavar="NAME", help="which Bluetooth adapter (Linux: hci1)")
    add_hub_options(parser)
    add_share_options(parser)
    add_plan_option(parser)
    add_record_options(parser)
    parser.add_argument(
        "--wait",
        type=seconds,
        metavar="SECONDS",
        help="give up if nothing has come from any sensor by then (default: "
        f"{_WAIT_S:g} in the terminal, never in the window)",
    )
    add_lsl_options(parser)
    add_view_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    if (wish := share_wish(arguments)) is not None:
        return run_sharing_hub(arguments, wish)
    if arguments.hub_from is not None:
        return run_hub(arguments, broker_address(arguments.hub_from, arguments))
    check_no_hub_options(arguments)
    start_ns = time.perf_counter_ns()

    def now_ns() -> int:
        return time.perf_counter_ns() - start_ns

    window = window_possible(not arguments.no_window)
    host = host_id()
    start = start_of(arguments, window, host, load_sensors(data_folder()))
    radio = BleakRadio(
        now_ns,
        system=platform.system(),
        announce=lambda line: print(line, file=sys.stderr, flush=True),
        adapter=arguments.radio,
    )
    training = Trainings(plan_of(arguments))
    lsl = live_lsl(arguments, start.head, now_ns)
    journal = journal_of(arguments, start.head)
    live = Live(
        start.head,
        start.plans,
        lambda: nullcontext(radio),
        start.registry,
        host=host,
        now_ns=now_ns,
        chance=Random(),
        journal=heard_by(journal, lsl),
        on_learned=lambda registry: save_sensors(data_folder(), registry),
        clocks=lambda: read_clocks(now_ns),
        training=training,
        give_up_s=arguments.wait or (None if window else _WAIT_S),
        services=frozenset(start.adapters.kinds()),
        told=told_to(lsl),
    )
    room = KitRoom(
        live,
        start.head,
        start.adapters,
        host=host,
        now_ns=now_ns,
        new_id=new_id,
        people=kept_people(),
        work=measuring_work(start.registry),
    )
    notices = tuple if lsl is None else lsl.notices
    try:
        return watch_live(live, journal, window, arguments, training, room, more=notices)
    finally:
        if lsl is not None:
            lsl.stop()
