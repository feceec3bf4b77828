"""Read an oximeter's packets as its adapter says: compiled once, then quick.

A channel gives a sample when one of its own fields is in the packet, or when the packet says
that the probe is off the skin. Without contact nothing is known about the muscle.
"""

from dataclasses import dataclass
from typing import Final

from livemon.decode.field_value import ReadValue, value_reader
from livemon.decode.layout import OF_ONE_CHANNEL, Layout, Quantity
from livemon.decode.placement import Placed, Setting, place, switches
from livemon.decode.samples import BatterySample, OxygenationSample
from livemon.errors import DecodeError

# Order in which a channel's values are looked up; see _Channel.
_TOLD: Final = (
    Quantity.SMO2,
    Quantity.THB,
    Quantity.O2HB,
    Quantity.HHB,
    Quantity.CONTACT,
    Quantity.QUALITY,
    Quantity.SEQUENCE,
    Quantity.DEVICE_TIME,
)


@dataclass(frozen=True, slots=True)
class _Channel:
    """Where one channel's values stand among the values read; the last place holds None."""

    at: tuple[int, ...]  #: one for each of _TOLD
    is_told: bool  #: a field of its own is in the packet


@dataclass(frozen=True, slots=True)
class _Plan:
    """How to read packets of one setting."""

    placed: tuple[Placed, ...]
    needs: int  #: octets
    reads: tuple[ReadValue, ...]
    channels: tuple[_Channel, ...]
    battery: int | None


class OximeterReader:
    """Turns payloads of one adapter into samples."""

    __slots__ = ("_characteristic", "_layout", "_plans", "_switches")

    def __init__(self, characteristic: str, layout: Layout) -> None:
        self._characteristic = characteristic
        self._layout = layout
        self._switches = switches(layout.fields)
        self._plans: dict[Setting, _Plan] = {}

    def read(
        self, payload: bytes, t_s: float, *, sites: tuple[str, ...], sensor: str
    ) -> tuple[OxygenationSample | BatterySample, ...]:
        """Decode one notification; channels beyond the sites given are left out.

        Raises:
            DecodeError: the payload ends before a field, or is shorter than the adapter says.
        """
        setting = self._setting(payload)
        plan = self._plans.get(setting) or self._planned(setting)
        if len(payload) < plan.needs:
            raise self._too_short(plan, payload)
        values = [read(payload) for read in plan.reads]
        values.append(None)

        samples: list[OxygenationSample | BatterySample] = []
        for site, channel in zip(sites, plan.channels, strict=False):
            smo2, thb, o2hb, hhb, contact, quality, sequence, device = [
                values[at] for at in channel.at
            ]
            touches = None if contact is None else bool(contact)
            if touches is False:
                smo2 = thb = o2hb = hhb = None
            elif not channel.is_told:
                continue
            counter = None if sequence is None else int(sequence)
            samples.append(
                OxygenationSample(
                    t_s, site, smo2, thb, touches, quality, counter, device, o2hb, hhb
                )
            )
        if plan.battery is not None:
            charge = values[plan.battery]
            samples.append(BatterySample(t_s, sensor, None if charge is None else round(charge)))
        return tuple(samples)

    def _setting(self, payload: bytes) -> Setting:
        if not self._switches:
            return ()
        try:
            return tuple([payload[at] >> bit & 1 == 1 for at, bit in self._switches])
        except IndexError:
            raise DecodeError(self._characteristic, "ends before a presence bit", payload) from None

    def _planned(self, setting: Setting) -> _Plan:
        placed = place(self._layout.fields, setting)
        plan = self._plans[setting] = _Plan(
            placed,
            max([self._layout.min_len, *(needed(one) for one in placed)]),
            tuple(value_reader(one.field, one.offset) for one in placed),
            tuple(_channel(placed, index) for index in range(len(self._layout.channels))),
            _position(placed, Quantity.BATTERY, None),
        )
        return plan

    def _too_short(self, plan: _Plan, payload: bytes) -> DecodeError:
        size = len(payload)
        for one in plan.placed:
            if needed(one) > size:
                problem = f"ends before {one.field.key}"
                return DecodeError(self._characteristic, problem, payload)
        problem = f"{size} octets, expected at least {self._layout.min_len}"
        return DecodeError(self._characteristic, problem, payload)


def needed(placed: Placed) -> int:
    """Return how long a payload must be to hold the field and the bit that says if it is known."""
    known_if = placed.field.known_if
    return placed.end if known_if is None else max(placed.end, known_if.offset + 1)


def _channel(placed: tuple[Placed, ...], channel: int) -> _Channel:
    at = [_position(placed, quantity, channel) for quantity in _TOLD]
    own = any(
        one.field.channel == channel and one.field.quantity in OF_ONE_CHANNEL for one in placed
    )
    return _Channel(tuple(len(placed) if index is None else index for index in at), own)


def _position(placed: tuple[Placed, ...], quantity: Quantity, channel: int | None) -> int | None:
    """Which of the fields placed tells `quantity` about `channel`."""
    for index, one in enumerate(placed):
        if one.field.quantity is quantity and one.field.channel in {channel, None}:
            return index
    return None
