"""Find what is likely wrong in an adapter that can be used as it is.

The loader refuses what can't be meant; here is what can, but probably isn't.
"""

from collections.abc import Iterator
from typing import Final

from livemon.decode.adapter import Adapter, parse_adapter
from livemon.decode.adapter_rules import representable
from livemon.decode.formats import Kind
from livemon.decode.layout import Field, Quantity
from livemon.decode.pulse_oximeter import CONTINUOUS_MEASUREMENT, SPOT_CHECK_MEASUREMENT
from livemon.decode.uuids import sig_uuid

#: What a notification or write holds until both sides agree on more: ATT_MTU 23 less 3
#: (Bluetooth Core Specification, Vol 3 Part F, 3.2.8 and 3.4.7).
_DEFAULT_ROOM: Final = 20

_COARSE_PCT: Final = 1.0  # common practice, no source: a slope over a minute needs finer steps

_WHOLE_PCT: Final = {Quantity.SMO2, Quantity.QUALITY, Quantity.BATTERY}


def check_adapter(text: str, where: str) -> tuple[str, ...]:
    """Return what to look at, in words, most telling first; empty if there is nothing.

    Raises:
        AdapterError: the adapter can't be used at all.
    """
    adapter = parse_adapter(text, where=where)
    return (
        *_of_characteristic(adapter),
        *(finding for field in adapter.layout.fields for finding in _of_field(field, adapter)),
        *_of_packet(adapter),
    )


def _of_characteristic(adapter: Adapter) -> Iterator[str]:
    if adapter.characteristic in {SPOT_CHECK_MEASUREMENT, CONTINUOUS_MEASUREMENT}:
        yield (
            "characteristic: by its standard the Pulse Oximeter Service carries arterial "
            "saturation (SpO2); keep this only if the sensor's maker says the value is a muscle's"
        )
    elif adapter.characteristic.endswith(sig_uuid(0)[8:]):
        yield (
            "characteristic: a standard one; for a sensor with this adapter its standard reading "
            "is replaced"
        )


def _of_field(field: Field, adapter: Adapter) -> Iterator[str]:
    if field.quantity is Quantity.SMO2 and not _can_be_unknown(field, adapter):
        yield (
            f"{field.key}: nothing says 'not known' (not_known, known_if, contact); a probe "
            "without a reading would be shown with a number"
        )
    if field.quantity in _WHOLE_PCT and (field.low < 0 or field.high > 100):
        yield (
            f"{field.key}: valid from {field.low:g} to {field.high:g} % is wider than 0 to 100 %"
        )
    reach = representable(field)
    if field.quantity is Quantity.SMO2 and reach is not None:
        step = abs(field.scale.value(1))
        if reach[1] < 100:
            yield (
                f"{field.key}: the format ends at {reach[1]:g} %; is the scale right "
                f"(one raw step is {step:g} %)?"
            )
        if step > _COARSE_PCT:
            yield f"{field.key}: steps of {step:g} % are too coarse for a trend over a minute"


def _of_packet(adapter: Adapter) -> Iterator[str]:
    told = {field.quantity for field in adapter.layout.fields}
    if Quantity.CONTACT not in told:
        yield "no contact field: a probe that came off can't be told from a drained muscle"
    if Quantity.SEQUENCE not in told:
        yield "no sequence field: lost and doubled packets can't be told"
    if adapter.connection.rate_hz is None:
        yield "no rate_hz: gaps are judged by the rate seen, which takes a while to learn"
    if adapter.layout.min_len > _DEFAULT_ROOM:
        yield (
            f"min_len: {adapter.layout.min_len} octets are more than the {_DEFAULT_ROOM} that "
            "every link carries; where no larger packets are agreed on, all are rejected"
        )
    for index, write in enumerate(adapter.connection.start_up):
        if len(write.octets) > _DEFAULT_ROOM:
            yield (
                f"start_up[{index}]: {len(write.octets)} octets are more than the "
                f"{_DEFAULT_ROOM} that every link carries"
            )


def _can_be_unknown(field: Field, adapter: Adapter) -> bool:
    if field.not_known or field.known_if is not None or field.present_if is not None:
        return True
    if field.word.format.kind in {Kind.FLOAT, Kind.MEDFLOAT}:
        return True
    return any(
        other.quantity is Quantity.CONTACT and other.channel in {None, field.channel}
        for other in adapter.layout.fields
    )
