"""`--share` and what goes with it: whether and where this computer is the hub's broker."""

import argparse
from dataclasses import dataclass
from ipaddress import IPv4Address, IPv6Address
from typing import Final

from livemon.errors import UsageError
from livemon.net.share_listen import own_addresses, read_place

_THIS_COMPUTER: Final = IPv4Address("127.0.0.1")
#: IANA's port numbers for MQTT without and with TLS.
PLAIN_PORT: Final = 1883
TLS_PORT: Final = 8883


@dataclass(frozen=True, slots=True)
class ShareWish:
    """Where relays may come in, and whether the network is told of it."""

    host: IPv4Address | IPv6Address = _THIS_COMPUTER
    port: int = PLAIN_PORT
    announce: bool = False


def add_share_options(parser: argparse.ArgumentParser) -> None:
    """Add whether relays may join without a broker of one's own."""
    parser.add_argument(
        "--share",
        action="store_true",
        help="let relays join, on this computer only if --share-on does not say more; shows a code",
    )
    parser.add_argument(
        "--share-on",
        metavar="ADDRESS",
        help="let relays join over the network on which this computer has ADDRESS, as "
        f"192.168.1.20 or 192.168.1.20:{TLS_PORT}; encrypted, with a code that is new each time",
    )
    parser.add_argument(
        "--announce",
        action="store_true",
        help="say on that network that a hub is here, so that relays find it by the code alone",
    )


def share_wish(arguments: argparse.Namespace) -> ShareWish | None:
    """Return what is wished; None if nothing is to be shared.

    Raises:
        UsageError: it can't be meant, or would reach further than a local network.
    """
    if arguments.share_on is None:
        if arguments.announce:
            raise UsageError(
                "--announce tells the network of a hub that only this computer can reach; say"
                " --share-on ADDRESS, too"
            )
        return ShareWish() if arguments.share else None
    host, port = read_place(arguments.share_on, TLS_PORT)
    if host.is_unspecified:
        own = ", ".join(map(str, own_addresses())) or "none but its own loopback"
        raise UsageError(
            f"{host} would be every network at once; say which one. This computer has: {own}"
        )
    if host.is_global or host.is_multicast:
        raise UsageError(
            f"{host} is not an address of a local network, and --share is for those only. Between"
            " places use a broker of your own (docs/mqtt.md)"
        )
    if host.is_loopback and arguments.announce:
        raise UsageError(f"--announce tells the network of a hub that it can't reach at {host}")
    return ShareWish(host, port, arguments.announce)
