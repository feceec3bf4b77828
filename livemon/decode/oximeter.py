"""Read an oximeter's packets as its adapter says: compiled once, then quick.

A channel gives a sample when one of its own fields is in the packet, or when the packet says
that the probe is off the skin. Without contact nothing is known about the muscle.
"""

from collections.abc import Callable
from dataclasses import dataclass

from livemon.decode.formats import Kind, reader
from livemon.decode.layout import OF_ONE_CHANNEL, Condition, Field, Layout, Quantity
from livemon.decode.medfloat import decode_float, decode_sfloat
from livemon.decode.placement import Placed, Setting, place, switches
from livemon.decode.samples import BatterySample, OxygenationSample
from livemon.errors import DecodeError

ReadValue = Callable[[bytes], float | None]

# Order in which a channel's values are looked up; see _Channel.
_TOLD = (
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


def value_reader(field: Field, offset: int) -> ReadValue:
    """Return a function that reads the field's value off a payload that is long enough."""
    if field.quantity is Quantity.CONTACT:
        read = _contact_reader(field, offset)
    elif field.quantity is Quantity.SEQUENCE:
        read = _count_reader(field, offset)
    elif field.word.format.kind is Kind.MEDFLOAT:
        read = _medfloat_reader(field, offset)
    else:
        read = _number_reader(field, offset)
    return read if field.known_if is None else _only_if(field.known_if, read)


def _number_reader(field: Field, offset: int) -> ReadValue:
    raw_of, not_known = reader(field.word, offset), frozenset(field.not_known)
    numerator, denominator = field.scale.fraction
    low, high = field.low, field.high

    def read(payload: bytes) -> float | None:
        raw = raw_of(payload)
        if raw in not_known:
            return None
        value = raw * numerator / denominator
        return value if low <= value <= high else None  # false for NaN, too

    return read


def _medfloat_reader(field: Field, offset: int) -> ReadValue:
    word_of, not_known = reader(field.word, offset), frozenset(field.not_known)
    number_of = decode_sfloat if field.word.format.name == "medfloat16" else decode_float
    numerator, denominator = field.scale.fraction
    low, high = field.low, field.high

    def read(payload: bytes) -> float | None:
        word = int(word_of(payload))
        number = None if word in not_known else number_of(word)
        if number is None:
            return None
        value = number * numerator / denominator
        return value if low <= value <= high else None

    return read


def _count_reader(field: Field, offset: int) -> ReadValue:
    raw_of, not_known = reader(field.word, offset), frozenset(field.not_known)

    def read(payload: bytes) -> float | None:
        raw = raw_of(payload)
        return None if raw in not_known else raw

    return read


def _contact_reader(field: Field, offset: int) -> ReadValue:
    raw_of, not_known = reader(field.word, offset), frozenset(field.not_known)
    touching = frozenset(field.means_contact)

    def read(payload: bytes) -> float | None:
        raw = raw_of(payload)
        if raw in not_known:
            return None
        return raw in touching if touching else raw != 0

    return read


def _only_if(condition: Condition, read: ReadValue) -> ReadValue:
    return lambda payload: read(payload) if condition.holds(payload) else None


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
