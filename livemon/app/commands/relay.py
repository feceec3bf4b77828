"""`livemon relay`: read the sensors near this machine and send them to a hub over MQTT."""

import argparse
import logging
import signal
import ssl
import sys
import time
from pathlib import Path
from random import Random
from typing import Final

from livemon.app.engine import Engine, Program
from livemon.app.journaling import Journaling, recording_path
from livemon.app.kit_options import add_kit_options
from livemon.app.options import seconds
from livemon.app.pauses import pass_over_what_is_there, visit_all_again
from livemon.app.places import data_folder, host_id, recordings_folder
from livemon.app.relay_broker import add_broker_options, broker_address, trust_for
from livemon.app.relay_ids import OwnIds
from livemon.app.relay_owed import OwedFile
from livemon.app.relay_post import RelayPost
from livemon.app.relay_recorder import RelayRecorder
from livemon.app.relay_source import RelaySource, add_source_options, source_of
from livemon.app.relay_words import RelayStanding, relay_line
from livemon.app.share_join import add_join_option, join
from livemon.app.share_token import own_token
from livemon.net.address import BrokerAddress
from livemon.net.mqtt import MqttBroker
from livemon.net.relay import Clocks
from livemon.net.topics import check_id

#: Often enough for somebody who walks past, seldom enough for a log file.
_EVERY_S: Final = 30.0
#: How often it is looked whether there is something new to say.
_LOOK_S: Final = 0.5


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    hub = parser.add_mutually_exclusive_group(required=True)
    hub.add_argument(
        "--to",
        metavar="ADDRESS",
        help="the broker and the group, as mqtts://broker.example/class-a; several hubs and groups "
        "can share a broker",
    )
    add_join_option(hub)
    parser.add_argument(
        "--id",
        metavar="ID",
        help="what this relay is called, as gym-1: small letters, digits, hyphens, and nobody's "
        "name (default: the user name at the broker, else one made up for this computer)",
    )
    add_broker_options(parser)
    add_kit_options(parser)
    add_source_options(parser)
    parser.add_argument(
        "--with-names",
        action="store_true",
        help="names of athletes and sensors, and notes, travel too (default: they are left out)",
    )
    parser.add_argument("--record", metavar="FILE", help="where to record (default: your folder)")
    parser.add_argument(
        "--every",
        type=seconds,
        default=_EVERY_S,
        metavar="SECONDS",
        help=f"how often to say how it stands (default {_EVERY_S:g}; changes are said at once)",
    )


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    logging.basicConfig(level=logging.WARNING, format="%(message)s")
    start_ns = time.perf_counter_ns()

    def now_ns() -> int:
        return time.perf_counter_ns() - start_ns

    relay, address, trust, hub = _hub(arguments)
    source = source_of(arguments, now_ns)
    own = OwnIds(relay, names=arguments.with_names)
    head = own.head(source.head)
    path = Path(recording_path(arguments.record, recordings_folder(), head))
    journaling = Journaling(path, head)
    print(f"Recording to {path}", file=sys.stderr, flush=True)
    post = RelayPost(
        address.group,
        relay,
        head,
        path,
        OwedFile(data_folder()),
        f"{hub}/{address.group}/{relay}",
        lambda will: MqttBroker(
            address, f"livemon-{address.group}-{relay}", will=will, trust=trust
        ),
        Clocks(now_ns, lambda: time.time_ns() // 1_000_000),
        Random(),
    )
    program = source.program(RelayRecorder(journaling, own, post.wrote))
    print(f"Relay {relay}, sending to {_place(address)}/{address.group}/{relay}", flush=True)
    return _work(post, program, source, journaling, arguments.every)


def _hub(arguments: argparse.Namespace) -> tuple[str, BrokerAddress, ssl.SSLContext | None, str]:
    """Return this relay's id, where it sends to, what vouches for that, and which hub that is.

    A broker is known by its place; a hub that was joined by its certificate, since another club's
    hub may have the same address on another day.

    Raises:
        LivemonError: that can't be meant, or a hub that was to be joined is not to be found.
    """
    made_up = f"relay-{host_id()[:6]}"
    if arguments.join is not None:
        relay = check_id("relay", arguments.id or made_up)
        joined = join(arguments.join, relay, own_token(data_folder()))
        return relay, joined.address, joined.trust, joined.hub
    address = broker_address(arguments.to, arguments)
    relay = check_id("relay", arguments.id or address.user or made_up)
    return relay, address, trust_for(address, arguments.ca_file), _place(address)


def _place(address: BrokerAddress) -> str:
    return f"{address.host}:{address.port}"


def _work(
    post: RelayPost, program: Program, source: RelaySource, journaling: Journaling, every_s: float
) -> int:
    """Run until Ctrl-C, SIGTERM or the recording's end; put all in order; return the exit code.

    Raises:
        LivemonError: what could not be done.
    """
    before = signal.signal(signal.SIGTERM, signal.default_int_handler)
    engine = Engine(program)
    pass_over_what_is_there()
    post.start()
    engine.start()
    said: RelayStanding | None = None
    said_at_s = 0.0
    try:
        while engine.running and post.failure is None:
            standing = _standing(post, program, source, journaling)
            now_s = time.monotonic()
            if not standing.like(said) or now_s - said_at_s >= every_s:
                print(relay_line(standing), flush=True)
                said, said_at_s = standing, now_s
            engine.wait(_LOOK_S)
    except KeyboardInterrupt:
        print("Ending: setting the sensors free and sending the last lines.", flush=True)
    finally:
        visit_all_again()
        engine.stop()
        post.stop()
        signal.signal(signal.SIGTERM, before)
    for failure in (engine.failure, post.failure):
        if failure is not None:
            raise failure
    print(relay_line(_standing(post, program, source, journaling)), flush=True)
    return 0


def _standing(
    post: RelayPost, program: Program, source: RelaySource, journaling: Journaling
) -> RelayStanding:
    notices = tuple(words for words in (source.trouble(program), journaling.words()) if words)
    return RelayStanding(source.sensors(program), post.trouble, post.heard, post.behind, notices)
