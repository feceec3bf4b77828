"""What relays and a hub can do through the hub's own broker: 8 relays with 6 sensors each at 10 Hz.

    python -m benchmarks.relay_share

As in relay.py, but there is no Mosquitto: the broker runs in the hub's process, in a thread of its
own, and relays come in with the code that a person would type. Invented readings.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from ipaddress import IPv4Address
from pathlib import Path

from benchmarks.figure import Figure, line
from benchmarks.relay import LONG_S, SHORT_S, Way, measured
from benchmarks.relay_players import ATHLETES, GROUP
from livemon.app.share_options import ShareWish
from livemon.app.share_start import start_share

PORT = 18_884


@contextmanager
def own_broker(folder: Path) -> Iterator[Way]:
    """Share on loopback."""
    share = start_share(ShareWish(IPv4Address("127.0.0.1"), PORT), folder, group=GROUP)
    try:
        yield Way(share.address, share.invitation.code.secret)
    finally:
        share.stop()


def figures() -> Iterator[Figure]:
    """Measure for a short while."""
    yield from measured(SHORT_S, ATHLETES, own_broker)


def long_figures() -> Iterator[Figure]:
    """Measure for longer."""
    yield from measured(LONG_S, ATHLETES, own_broker)


if __name__ == "__main__":
    print(*map(line, long_figures()), sep="\n")
