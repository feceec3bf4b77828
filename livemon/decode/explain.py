"""Show what an adapter makes of a payload, field by field: for whoever writes the adapter."""

from dataclasses import dataclass
from math import isfinite

from livemon.decode.field_value import medfloat_of, value_reader
from livemon.decode.formats import Kind, reader
from livemon.decode.layout import Condition, Field, Layout
from livemon.decode.oximeter import needed
from livemon.decode.placement import Placed, place, switches


@dataclass(frozen=True, slots=True)
class FieldReading:
    """One field of one payload.

    Attributes:
        key: which field, as "smo2" or "smo2.upper".
        offset: its first octet; None where the field is not in the packet.
        octets: those it is read from; empty where not in the packet or cut off.
        raw: the number they stand for, before scaling; for medical floats the whole word.
        value: None where not known.
        unit: empty for counters and contact.
        why: why the value is not known, in words; empty where it is.
    """

    key: str
    offset: int | None
    octets: bytes
    raw: float | None
    value: float | None
    unit: str
    why: str


def explain_packet(layout: Layout, payload: bytes) -> tuple[FieldReading, ...]:
    """Read every field of a payload of any length, in the order of the adapter file."""
    present = switches(layout.fields)
    setting = tuple(at < len(payload) and payload[at] >> bit & 1 == 1 for at, bit in present)
    placed = {one.index: one for one in place(layout.fields, setting)}
    return tuple(
        _absent(field, field.present_if, payload)
        if field.present_if is not None and index not in placed
        else _reading(placed[index], payload)
        for index, field in enumerate(layout.fields)
    )


def _absent(field: Field, condition: Condition, payload: bytes) -> FieldReading:
    cut = condition.offset >= len(payload)
    why = "the packet ends before its presence bit" if cut else f"not sent: {_said(condition)}"
    return FieldReading(field.key, None, b"", None, None, field.unit, why)


def _reading(one: Placed, payload: bytes) -> FieldReading:
    field = one.field
    if needed(one) > len(payload):
        why = f"the packet has {len(payload)} octets, this field needs {needed(one)}"
        return FieldReading(field.key, one.offset, b"", None, None, field.unit, why)
    octets = payload[one.offset : one.end]
    raw = reader(field.word, one.offset)(payload)
    value = value_reader(field, one.offset)(payload)
    why = _why(field, payload, raw) if value is None else ""
    return FieldReading(field.key, one.offset, octets, raw, value, field.unit, why)


def _why(field: Field, payload: bytes, raw: float) -> str:
    if field.known_if is not None and not field.known_if.holds(payload):
        return f"not known: {_said(field.known_if)}"
    if raw in field.not_known:
        return "this raw number means not known"
    if not _is_number(field, raw):
        return "the sensor sent no number"
    return f"outside the valid range, {field.low:g} to {field.high:g} {field.unit}".rstrip()


def _is_number(field: Field, raw: float) -> bool:
    if field.word.format.kind is Kind.MEDFLOAT:
        return medfloat_of(field.word)(int(raw)) is not None
    return isfinite(raw)


def _said(condition: Condition) -> str:
    return f"octet {condition.offset} bit {condition.bit} is {int(not condition.is_set)}"
