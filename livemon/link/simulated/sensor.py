"""An invented sensor as seen from the air: what it offers, what it sends, what is wrong with it.

It knows nothing of radios or clocks; `air` moves it. The content is handed in as packets with
their times, so it may come from a script, a model of a body or a recording.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from enum import Enum, auto

from bleak.exc import BleakError


@dataclass(frozen=True, slots=True)
class Packet:
    """One notification that the sensor means to send."""

    t_s: float  #: seconds since the sensor was switched on
    characteristic: str
    payload: bytes


class EndWord(Enum):
    """When the system tells that a link ended."""

    AT_ONCE = auto()
    LATE = auto()  #: after 6 s, the longest supervision time-out that Apple's guidelines ask for
    NEVER = auto()
    TWICE = auto()


@dataclass(slots=True)
class Troubles:
    """What is wrong with a sensor just now; the defaults are a sensor without trouble.

    Attributes:
        off: no power: no advertisements, no link.
        held_elsewhere: another device holds its only link.
        silent: the link stands and nothing comes.
        loses_first: packets lost after each subscription.
        copies: how often the system hands over each packet.
        hold_s: packets are held and come together every so many seconds.
        swaps: packets come in pairs, the later one first.
        cut_to: payloads end after so many bytes.
        padding: added to each payload.
        off_skin: no contact, as far as its content can say so.
        refusal: raised when somebody subscribes.
        opening_hangs: an attempt to open a link never ends.
        opening_fails: an attempt to open a link fails after its time.
        closing_hangs: an attempt to end the link never ends.
        end_word: when the system tells that the link ended.
        old_callbacks: packets also go to whoever subscribed on earlier links.
        old_tables: on so many links the system remembers a table of services without its own,
            unless asked for a fresh one.
    """

    off: bool = False
    held_elsewhere: bool = False
    silent: bool = False
    loses_first: int = 0
    copies: int = 1
    hold_s: float = 0.0
    swaps: bool = False
    cut_to: int | None = None
    padding: bytes = b""
    off_skin: bool = False
    refusal: BleakError | None = None
    opening_hangs: bool = False
    opening_fails: bool = False
    closing_hangs: bool = False
    end_word: EndWord = EndWord.AT_ONCE
    old_callbacks: bool = False
    old_tables: int = 0


def _as_it_is(_: str, payload: bytes) -> bytes:
    return payload


@dataclass(slots=True)
class SimulatedSensor:
    """One sensor.

    Attributes:
        services: characteristics that notify, by service.
        readable: values of characteristics that can be read, by service.
        writable: characteristics that can be written, by service.
        packets: what it sends, in order of time.
        off_skin: what a payload becomes without contact.
        described: presentation format descriptors, by characteristic.
        written: what was written to it so far.
    """

    address: str
    name: str | None
    services: dict[str, tuple[str, ...]]
    packets: Iterator[Packet] = field(default_factory=lambda: iter(()))
    readable: dict[str, dict[str, bytes]] = field(default_factory=dict)
    writable: dict[str, tuple[str, ...]] = field(default_factory=dict)
    advertised: tuple[str, ...] | None = None  #: services in the advertisement; None for all
    advertises_every_s: float = 1.285  #: the longest interval that Apple's guidelines ask for
    opening_s: float = 0.1
    discovery_s: float = 0.05  #: for the table of services, once the link stands
    rssi_dbm: int = -60
    off_skin: Callable[[str, bytes], bytes] = _as_it_is
    troubles: Troubles = field(default_factory=Troubles)
    written: list[tuple[str, bytes]] = field(default_factory=list)
    described: dict[str, tuple[bytes, ...]] = field(default_factory=dict)

    def payload(self, packet: Packet) -> bytes:
        """Return what really goes out for `packet`."""
        troubles, payload = self.troubles, packet.payload
        if troubles.off_skin:
            payload = self.off_skin(packet.characteristic, payload)
        return payload[: troubles.cut_to] + troubles.padding
