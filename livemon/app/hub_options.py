"""The options of `livemon live` that ask for relays, and make it a hub."""

import argparse

from livemon.app.relay_broker import add_broker_options
from livemon.errors import UsageError


def add_hub_options(parser: argparse.ArgumentParser) -> None:
    """Add where to listen for relays."""
    parser.add_argument(
        "--from",
        dest="hub_from",
        metavar="ADDRESS",
        help="show what relays send to this broker and group, as mqtts://broker.example/class-a; "
        "own sensors are read too if they are named",
    )
    add_broker_options(parser)
    parser.add_argument(
        "--names",
        metavar="FILE",
        help='with --from: who is who, as a file that says: [names] and then "gym-1.a1" = "Ada"',
    )
    parser.add_argument(
        "--publish",
        action="store_true",
        help="with --from: publish how each athlete is, decoded and without names, for other "
        "programs (docs/mqtt.md)",
    )
    parser.add_argument(
        "--publish-names", action="store_true", help="the same with the athletes' names"
    )
    lines = parser.add_mutually_exclusive_group()
    lines.add_argument(
        "--json", action="store_true", help="with --from: print each change as a JSON line instead"
    )
    lines.add_argument(
        "--snapshots",
        action="store_true",
        help="with --from: print the state at every tick as a JSON line",
    )


def check_no_hub_options(arguments: argparse.Namespace) -> None:
    """Refuse what only a hub can do where there is none.

    Raises:
        UsageError: something of the kind was asked for.
    """
    for option in ("names", "json", "snapshots", "publish", "publish_names"):
        if getattr(arguments, option):
            words = option.replace("_", "-")
            raise UsageError(
                f"--{words} goes with --from only; `livemon replay` knows --json, too."
            )
