"""`livemon live --from`: a session of what relays send, beside this computer's own sensors if any.

The same session, recording, window, terminal and lines as with sensors of one's own.
"""

import argparse
import platform
import sys
import time
from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path
from random import Random

from livemon.app.engine import Engine
from livemon.app.hub_copies import HubCopies
from livemon.app.hub_inflow import HubInflow
from livemon.app.hub_lines import Lines, print_lines
from livemon.app.hub_names import read_names
from livemon.app.hub_post import HubPost
from livemon.app.hub_words import SpokenNotices, hub_notices
from livemon.app.journaling import Journaling
from livemon.app.kit_options import kit_of, sensors_named
from livemon.app.live import Live
from livemon.app.lsl_feed import LslFeed
from livemon.app.lsl_option import heard_by, live_lsl, told_to
from livemon.app.places import data_folder, host_id, recordings_folder
from livemon.app.plan_option import plan_of
from livemon.app.relay_broker import broker_of
from livemon.app.remembered import load_sensors, save_sensors
from livemon.app.session_start import journal_of, new_session, started_utc, watch_live
from livemon.app.show import window_possible
from livemon.app.trainings import Trainings
from livemon.errors import UsageError
from livemon.events import Head
from livemon.link.bleak_radio import BleakRadio
from livemon.link.clocks import read_clocks
from livemon.link.identity import Registry
from livemon.link.plan import Plan
from livemon.net.address import BrokerAddress
from livemon.net.state_topics import StateTopics
from livemon.view.invitation import InvitationModel

#: The session's clock.
NowNs = Callable[[], int]


def run_hub(
    arguments: argparse.Namespace,
    address: BrokerAddress,
    *,
    more: Callable[[], tuple[str, ...]] = tuple,
    invitation: Callable[[], InvitationModel] | None = None,
) -> int:
    """Listen to the relays of the address's group until somebody ends it; return the exit code.

    `more` are notices beside those of the session and its relays; `invitation` says how to join.

    Raises:
        LivemonError: it can't be done.
    """
    if arguments.no_record:
        raise UsageError(
            "--no-record and --from exclude each other: relays take what was sent for kept, and "
            "forget it."
        )
    names = {} if arguments.names is None else read_names(Path(arguments.names))
    start_ns = time.perf_counter_ns()

    def now_ns() -> int:
        return time.perf_counter_ns() - start_ns

    window = not (arguments.json or arguments.snapshots) and window_possible(
        not arguments.no_window
    )
    inflow, lines = HubInflow(), Lines(changes=arguments.json, ticks=arguments.snapshots)
    training = Trainings(plan_of(arguments))
    live, journal, lsl = _live(arguments, now_ns, inflow, lines, training)
    post = _post(arguments, address, live, inflow, names, now_ns)

    def notices() -> tuple[str, ...]:
        sent = () if lsl is None else lsl.notices()
        return *more(), *sent, *hub_notices(post.standing())

    if not window:
        live.on_step(SpokenNotices(notices, _say).look)
    post.start()
    try:
        if lines.wanted:
            return print_lines(Engine(live))
        return watch_live(
            live, journal, window, arguments, training, more=notices, invitation=invitation
        )
    finally:
        post.stop()
        if lsl is not None:
            lsl.stop()


def _post(
    arguments: argparse.Namespace,
    address: BrokerAddress,
    live: Live,
    inflow: HubInflow,
    names: dict[str, str],
    now_ns: NowNs,
) -> HubPost:
    """Make what fetches the relays' lines into `inflow`, and publishes states where asked to."""
    states = StateTopics(
        address.group,
        lambda: live.latest,
        utc_ms=lambda: time.time_ns() // 1_000_000,
        names=arguments.publish_names,
    )
    publishes = arguments.publish or arguments.publish_names
    identifier = f"livemon-{address.group}-hub"
    will = states.will if publishes else None
    return HubPost(
        address.group,
        broker_of(address, arguments.ca_file, identifier, will),
        HubCopies(recordings_folder()),
        inflow,
        now_ns=now_ns,
        chance=Random(),
        beside=states.work if publishes else None,
        names=names,
    )


def _say(notice: str) -> None:
    """Say it where it spoils no lines, and no picture in a terminal."""
    if not sys.stdout.isatty():
        print(notice, file=sys.stderr, flush=True)


def _live(
    arguments: argparse.Namespace,
    now_ns: NowNs,
    inflow: HubInflow,
    lines: Lines,
    training: Trainings,
) -> tuple[Live, Journaling | None, LslFeed | None]:
    head = Head(started_utc(), new_session())
    plans: tuple[Plan, ...] = ()
    registry: Registry = ()
    radio: BleakRadio | None = None
    if sensors_named(arguments):
        kit = kit_of(arguments, host_id(), load_sensors(data_folder()))
        head = Head(
            head.started_utc,
            head.session,
            (kit.athlete,),
            kit.sensors,
            kit.adapters,
            kit.assigned,
        )
        plans, registry = kit.plans, kit.registry
        radio = BleakRadio(
            now_ns,
            system=platform.system(),
            announce=lambda line: print(line, file=sys.stderr, flush=True),
            adapter=arguments.radio,
        )
    lsl = live_lsl(arguments, head, now_ns)
    journal = journal_of(arguments, head)
    live = Live(
        head,
        plans,
        None if radio is None else lambda: nullcontext(radio),
        registry,
        host=host_id(),
        now_ns=now_ns,
        chance=Random(),
        journal=heard_by(journal, lsl),
        on_learned=lambda learned: save_sensors(data_folder(), learned),
        clocks=lambda: read_clocks(now_ns),
        training=training,
        give_up_s=arguments.wait,
        inflow=inflow,
        each_tick=lines.tick,
        told=told_to(lsl, lines.told),
    )
    return live, journal, lsl
