"""Faults of the gym floor by name: what happens when one begins, and what when it ends.

Each touches one sensor, or the adapter where no sensor alone could. They are invented to be as
unkind as what users of Bluetooth libraries report, no more.
"""

from collections.abc import Callable
from enum import Enum
from typing import Final

from bleak.exc import BleakGATTProtocolError, BleakGATTProtocolErrorCode

from livemon.link.simulated.air import Air
from livemon.link.simulated.sensor import EndWord, SimulatedSensor, Troubles


class Fault(Enum):
    """What can go wrong."""

    DROP = "drop"  #: out of reach; the system tells at once
    DROP_TOLD_LATE = "drop-told-late"
    DROP_TOLD_TWICE = "drop-told-twice"
    DROP_NOT_TOLD = "drop-not-told"
    ZOMBIE = "zombie"  #: linked but silent, until the link is broken up
    DOUBLES = "doubles"  #: the system hands over each packet twice
    OLD_CALLBACKS = "old-callbacks"  #: packets also reach who subscribed on earlier links
    BURST = "burst"  #: a second's packets come together
    REORDER = "reorder"  #: pairs of packets change places
    TRUNCATED = "truncated"
    WRONG_LENGTH = "wrong-length"
    FIRST_LOST = "first-lost"  #: the first packets after each subscription are lost
    ADDRESS_CHANGE = "address-change"  #: drops, and returns under another address
    HELD_ELSEWHERE = "held-elsewhere"  #: drops, and another device holds it
    OPENING_FAILS = "opening-fails"  #: drops, and no link can be opened
    OPENING_HANGS = "opening-hangs"  #: drops, and attempts to open a link never end
    CLOSING_HANGS = "closing-hangs"  #: drops, and ending a link never ends
    OLD_TABLE = "old-table"  #: drops, and the system remembers an old table of services
    AUTHENTICATION = "authentication"  #: drops, and wants a pairing
    CONTACT_LOSS = "contact-loss"  #: off the skin, and says so
    ADAPTER_BUSY = "adapter-busy"  #: drops, and another program keeps the adapter
    SLOTS_FULL = "slots-full"  #: drops, and another device takes the place of its link
    OFF = "off"  #: Bluetooth is switched off
    NOT_ALLOWED = "not-allowed"  #: the system takes the permission for Bluetooth away
    SUSPEND = "suspend"  #: the computer sleeps: every link ends


def begin(fault: Fault, air: Air, sensor: SimulatedSensor) -> None:
    """Let a fault begin."""
    _BEGIN[fault](air, sensor)


def end(fault: Fault, air: Air, sensor: SimulatedSensor) -> None:
    """Let a fault end; what it did to links is not undone."""
    match fault:
        case Fault.ADAPTER_BUSY:
            air.busy = False
        case Fault.SLOTS_FULL:
            air.taken_elsewhere = 0
        case Fault.SUSPEND | Fault.OFF | Fault.NOT_ALLOWED:
            air.powered, air.allowed = True, True
    sensor.troubles = Troubles()


def schedule(fault: Fault, air: Air, sensor: SimulatedSensor, *, at_s: float, for_s: float) -> None:
    """Let a fault begin `at_s` from now and end `for_s` later."""
    air.later(at_s, lambda: begin(fault, air, sensor))
    air.later(at_s + for_s, lambda: end(fault, air, sensor))


def _set(**troubles: object) -> Callable[[Air, SimulatedSensor], None]:
    """Make a fault that touches only the sensor."""

    def begin_it(_: Air, sensor: SimulatedSensor) -> None:
        for name, value in troubles.items():
            setattr(sensor.troubles, name, value)

    return begin_it


def _drop(**troubles: object) -> Callable[[Air, SimulatedSensor], None]:
    """Make a fault that begins with the loss of the link."""
    touch = _set(**troubles)

    def begin_it(air: Air, sensor: SimulatedSensor) -> None:
        touch(air, sensor)
        air.drop(sensor)

    return begin_it


def _change_address(air: Air, sensor: SimulatedSensor) -> None:
    first, rest = sensor.address.split(":", 1)
    sensor.address = f"{(int(first, 16) + 1) % 256:02X}:{rest}"
    air.drop(sensor)


def _keep_adapter(air: Air, sensor: SimulatedSensor) -> None:
    air.busy = True
    air.drop(sensor)


def _fill_slots(air: Air, sensor: SimulatedSensor) -> None:
    air.drop(sensor)
    air.taken_elsewhere = air.slots - air.links


def _forbid(air: Air, _: SimulatedSensor) -> None:
    air.allowed = False
    air.switch_off()


def _suspend(air: Air, _: SimulatedSensor) -> None:
    air.switch_off()


_REFUSAL: Final = BleakGATTProtocolError(BleakGATTProtocolErrorCode.INSUFFICIENT_AUTHENTICATION)

_BEGIN: Final[dict[Fault, Callable[[Air, SimulatedSensor], None]]] = {
    Fault.DROP: _drop(off=True),
    Fault.DROP_TOLD_LATE: _drop(off=True, end_word=EndWord.LATE),
    Fault.DROP_TOLD_TWICE: _drop(off=True, end_word=EndWord.TWICE),
    Fault.DROP_NOT_TOLD: _drop(off=True, end_word=EndWord.NEVER),
    Fault.ZOMBIE: _set(silent=True),
    Fault.DOUBLES: _set(copies=2),
    Fault.OLD_CALLBACKS: _drop(old_callbacks=True),
    Fault.BURST: _set(hold_s=1.0),
    Fault.REORDER: _set(swaps=True),
    Fault.TRUNCATED: _set(cut_to=1),
    Fault.WRONG_LENGTH: _set(padding=b"\xff\xff\xff"),
    Fault.FIRST_LOST: _drop(loses_first=1),
    Fault.ADDRESS_CHANGE: _change_address,
    Fault.HELD_ELSEWHERE: _drop(held_elsewhere=True),
    Fault.OPENING_FAILS: _drop(opening_fails=True),
    Fault.OPENING_HANGS: _drop(opening_hangs=True),
    Fault.CLOSING_HANGS: _drop(closing_hangs=True),
    Fault.OLD_TABLE: _drop(old_tables=1),
    Fault.AUTHENTICATION: _drop(refusal=_REFUSAL),
    Fault.CONTACT_LOSS: _set(off_skin=True),
    Fault.ADAPTER_BUSY: _keep_adapter,
    Fault.SLOTS_FULL: _fill_slots,
    Fault.OFF: _suspend,  # a computer that sleeps has it off, too
    Fault.NOT_ALLOWED: _forbid,
    Fault.SUSPEND: _suspend,
}
