"""Make the packet that says given values: what the sensor itself does.

For the simulated radio, and to check an adapter against itself.
"""

from collections.abc import Mapping
from typing import Final

from livemon.decode.formats import FORMATS, Kind, Word, write
from livemon.decode.layout import Field, Layout, Quantity
from livemon.decode.medfloat import FLOAT_NAN, SFLOAT_NAN, encode_float, encode_sfloat
from livemon.decode.placement import Placed, Setting, Switch, place, settings, switches
from livemon.errors import UsageError

_SFLOAT_BITS: Final = FORMATS["medfloat16"].bits
_FLOAT32_BITS: Final = FORMATS["float32"].bits
_LARGEST_FLOAT32: Final = (2 - 2**-23) * 2.0**127  # IEEE 754 binary32


def encode_packet(layout: Layout, values: Mapping[str, float | None]) -> bytes:
    """Encode `values`, by field key; None says "not known".

    Raises:
        UsageError: a key that is no field, or a value that its field can't hold.
    """
    keys = dict.fromkeys(field.key for field in layout.fields)
    for key in values:
        if key not in keys:
            raise UsageError(f"{key!r} is no field of this adapter; it has {', '.join(keys)}")
    setting = _setting(layout.fields, values)
    placed = place(layout.fields, setting)
    packet = bytearray(max([layout.min_len, *(one.end for one in placed)]))
    for switch, is_set in zip(switches(layout.fields), setting, strict=True):
        _put_bit(packet, switch, is_set=is_set)
    known = _known_bits(placed, values)
    for switch, is_set in known.items():
        _put_bit(packet, switch, is_set=is_set)
    for one in placed:
        value = values.get(one.field.key)
        raw = _raw(one.field, value) if value is not None else _not_known(one.field, known)
        write(one.field.word, one.offset, raw, packet)
    return bytes(packet)


def _setting(fields: tuple[Field, ...], values: Mapping[str, float | None]) -> Setting:
    """Presence bits with which the packet holds what is asked for, and as little else as can be."""
    fitting = [
        setting
        for setting in settings(fields)
        if {one.field.key for one in place(fields, setting)} >= values.keys()
    ]
    if not fitting:
        raise UsageError(f"no packet of this adapter holds {', '.join(values)} together")
    return min(fitting, key=lambda setting: len(place(fields, setting)))


def _known_bits(
    placed: tuple[Placed, ...], values: Mapping[str, float | None]
) -> dict[Switch, bool]:
    """Bits that say whether a value is known; where fields share one, a known value decides."""
    asked = [(one.field, one.field.known_if) for one in placed if one.field.known_if is not None]
    bits: dict[Switch, bool] = {}
    for field, condition in asked:
        if values.get(field.key) is not None:
            said = bits.setdefault(condition.place, condition.is_set)
            if said is not condition.is_set:
                raise UsageError(f"{field.key} can't be known together with the others")
    for _, condition in asked:
        bits.setdefault(condition.place, not condition.is_set)
    return bits


def _not_known(field: Field, known: dict[Switch, bool]) -> float:
    if field.not_known:
        return field.not_known[0]
    kind = field.word.format.kind
    if kind is Kind.FLOAT:
        return float("nan")
    if kind is Kind.MEDFLOAT:
        return SFLOAT_NAN if field.word.bits == _SFLOAT_BITS else FLOAT_NAN
    if field.known_if is not None and known[field.known_if.place] is not field.known_if.is_set:
        return 0
    raise UsageError(f"{field.key} has no raw number for 'not known'")


def _raw(field: Field, value: float) -> float:
    if field.quantity is Quantity.CONTACT:
        return _contact(field, touches=bool(value))
    if not field.low <= value <= field.high:
        raise UsageError(f"{field.key}: {value:g} is outside {field.low:g} to {field.high:g}")
    raw = field.scale.raw(value)
    if field.word.format.kind is Kind.FLOAT:
        return _finite(field, raw)
    word = _medfloat(field.word, raw) if field.word.format.kind is Kind.MEDFLOAT else round(raw)
    if word is None or not field.word.lowest <= word <= field.word.highest:
        raise UsageError(f"{field.key}: {value:g} does not fit {field.word.format.name}")
    if word in field.not_known:
        raise UsageError(f"{field.key}: {value:g} would be read as 'not known'")
    return word


def _finite(field: Field, raw: float) -> float:
    if field.word.bits == _FLOAT32_BITS and abs(raw) > _LARGEST_FLOAT32:
        raise UsageError(f"{field.key}: {raw:g} does not fit {field.word.format.name}")
    return raw


def _medfloat(word: Word, value: float) -> int | None:
    return encode_sfloat(value) if word.bits == _SFLOAT_BITS else encode_float(value)


def _contact(field: Field, *, touches: bool) -> float:
    """Smallest raw number that is read as contact, or as none."""
    for raw in range(field.word.highest + 1):
        means = raw in field.means_contact if field.means_contact else raw != 0
        if means is touches and raw not in field.not_known:
            return raw
    raise UsageError(f"{field.key} has no raw number for {'' if touches else 'no '}contact")


def _put_bit(packet: bytearray, place: tuple[int, int], *, is_set: bool) -> None:
    at, bit = place
    packet.extend(bytes(max(0, at + 1 - len(packet))))
    packet[at] = packet[at] & ~(1 << bit) | is_set << bit
