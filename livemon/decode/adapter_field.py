"""The keys of one [[field]] of an adapter file. See `docs/adapters.md`."""

import sys
from typing import Final

from livemon.decode.formats import FORMATS, Format, Kind, Word
from livemon.decode.layout import (
    LONGEST_VALUE,
    OF_ONE_CHANNEL,
    UNSCALED,
    Condition,
    Field,
    Quantity,
)
from livemon.decode.scale import Scale
from livemon.decode.toml_table import TomlTable, shown

#: Units that can't be chosen: the rest of livemon counts on them.
FIXED_UNITS: Final = {
    Quantity.SMO2: "%",
    Quantity.QUALITY: "%",
    Quantity.BATTERY: "%",
    Quantity.DEVICE_TIME: "s",
    Quantity.CONTACT: "",
    Quantity.SEQUENCE: "",
}
_PERCENT: Final = (0.0, 100.0)
_ANY: Final = (-sys.float_info.max, sys.float_info.max)
_RANGES: Final = dict.fromkeys((Quantity.SMO2, Quantity.QUALITY, Quantity.BATTERY), _PERCENT)

# Wide enough for any sensor, narrow enough that no scaled raw number leaves the floats.
_LARGEST_M: Final = 1_000_000
_LARGEST_D: Final = 30
_LARGEST_B: Final = 64
_MOST_NOT_KNOWN: Final = 64


def read_field(row: TomlTable, channels: tuple[str, ...], *, little: bool) -> Field:
    """Read one field; `little` is the byte order of the file."""
    quantity = Quantity(row.choice("quantity", [one.value for one in Quantity]))
    channel = _channel(row, quantity, channels)
    offset = _offset(row)
    word = _word(row, little=little)
    if quantity in UNSCALED and word.format.kind is not Kind.UNSIGNED:
        raise row.error("format", f"expected a uint or boolean, found {word.format.name!r}")
    not_known = _not_known(row, word) if row.has("not_known") else ()
    scaled = quantity not in UNSCALED
    scale = _scale(row.table("scale")) if scaled and row.has("scale") else Scale()
    low, high = _valid(row) if scaled and row.has("valid") else _RANGES.get(quantity, _ANY)
    several = len(channels) > 1 and channel is not None
    return Field(
        key=f"{quantity.value}.{channels[channel]}" if several and channel is not None
        else quantity.value,
        quantity=quantity,
        channel=channel,
        offset=offset,
        word=word,
        scale=scale,
        unit=_unit(row, quantity) if scaled else "",
        low=low,
        high=high,
        not_known=not_known,
        present_if=_condition(row.table("present_if")) if row.has("present_if") else None,
        known_if=_condition(row.table("known_if")) if row.has("known_if") else None,
        modulo=_modulo(row, quantity, word),
        means_contact=_means_contact(row, word) if quantity is Quantity.CONTACT else (),
        shares=row.flag("shares", default=False),
    )  # fmt: skip


def not_used_with(quantity: Quantity) -> dict[str, str]:
    """Say of the keys that `read_field` leaves alone why they can't stand with this quantity."""
    return dict.fromkeys(
        ("channel", "scale", "unit", "valid", "modulo", "means_contact"),
        f"expected no such key with quantity {quantity.value!r}",
    )


def _channel(row: TomlTable, quantity: Quantity, channels: tuple[str, ...]) -> int | None:
    if quantity is Quantity.BATTERY:
        return None
    if quantity in OF_ONE_CHANNEL and len(channels) == 1 and not row.has("channel"):
        return 0
    if quantity not in OF_ONE_CHANNEL and not row.has("channel"):
        return None
    return channels.index(row.choice("channel", channels))


def _offset(row: TomlTable) -> int | None:
    value = row.take("offset", int, str)
    if value == "next":
        return None
    if type(value) is str:
        raise row.error("offset", f"expected a whole number or 'next', found {shown(value)}")
    return row.checked_whole("offset", value, 0, LONGEST_VALUE - 1)


def _word(row: TomlTable, *, little: bool) -> Word:
    form = FORMATS[row.choice("format", FORMATS)]
    if row.has("byte_order"):
        little = row.choice("byte_order", ("little", "big")) == "little"
    if row.has("bits"):
        first, last = _bits(row, form)
        return Word(form, little, first, last - first + 1)
    return Word(form, little, 0, form.bits)


def _bits(row: TomlTable, form: Format) -> tuple[int, int]:
    if form.kind in {Kind.FLOAT, Kind.MEDFLOAT}:
        raise row.error("bits", f"expected a uint or sint format with it, found {form.name!r}")
    first, last = row.pair("bits")
    low = row.checked_whole("bits[0]", first, 0, form.bits - 1)
    return low, row.checked_whole("bits[1]", last, low, form.bits - 1)


def _not_known(row: TomlTable, word: Word) -> tuple[float, ...]:
    values: list[object] = row.take("not_known", list)
    if len(values) > _MOST_NOT_KNOWN:
        raise row.error("not_known", f"expected at most {_MOST_NOT_KNOWN}, found {len(values)}")
    if word.format.kind is Kind.FLOAT:
        return tuple(row.checked_number(f"not_known[{i}]", value) for i, value in enumerate(values))
    return tuple(
        row.checked_whole(f"not_known[{i}]", value, word.lowest, word.highest)
        for i, value in enumerate(values)
    )


def _scale(table: TomlTable) -> Scale:
    m = table.whole("m", -_LARGEST_M, _LARGEST_M) if table.has("m") else 1
    if m == 0:
        raise table.error("m", "expected a whole number other than 0, found 0")
    d = table.whole("d", -_LARGEST_D, _LARGEST_D) if table.has("d") else 0
    b = table.whole("b", -_LARGEST_B, _LARGEST_B) if table.has("b") else 0
    table.end()
    return Scale(m, d, b)


def _unit(row: TomlTable, quantity: Quantity) -> str:
    fixed = FIXED_UNITS.get(quantity)
    if fixed is None:
        return row.text("unit", longest=16)
    if row.has("unit"):
        row.choice("unit", (fixed,))
    return fixed


def _valid(row: TomlTable) -> tuple[float, float]:
    first, second = row.pair("valid")
    low = row.checked_number("valid[0]", first)
    high = row.checked_number("valid[1]", second)
    if low >= high:
        raise row.error("valid", f"expected the smaller number first, found [{low:g}, {high:g}]")
    return low, high


def _condition(table: TomlTable) -> Condition:
    offset = table.whole("offset", 0, LONGEST_VALUE - 1)
    bit = table.whole("bit", 0, 7)
    is_set = table.whole("is", 0, 1) == 1 if table.has("is") else True
    table.end()
    return Condition(offset, bit, is_set)


def _modulo(row: TomlTable, quantity: Quantity, word: Word) -> int | None:
    if quantity not in {Quantity.SEQUENCE, Quantity.DEVICE_TIME}:
        return None
    if word.format.kind is not Kind.UNSIGNED:
        return None
    most = word.highest + 1
    return row.whole("modulo", 2, most) if row.has("modulo") else most


def _means_contact(row: TomlTable, word: Word) -> tuple[int, ...]:
    if not row.has("means_contact"):
        return ()
    values: list[object] = row.take("means_contact", list)
    if not 1 <= len(values) <= _MOST_NOT_KNOWN:
        raise row.error(
            "means_contact", f"expected 1 to {_MOST_NOT_KNOWN} raw numbers, found {len(values)}"
        )
    return tuple(
        row.checked_whole(f"means_contact[{i}]", value, word.lowest, word.highest)
        for i, value in enumerate(values)
    )
