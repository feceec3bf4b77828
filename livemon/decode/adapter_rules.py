"""What has to hold for a packet as a whole, whichever optional fields it carries."""

from typing import Final

from livemon.decode.formats import Kind, Word
from livemon.decode.layout import LONGEST_VALUE, Field, Quantity
from livemon.decode.placement import Placed, place, settings, switches
from livemon.decode.toml_table import TomlTable

_MOST_SWITCHES: Final = 8  # 256 layouts to check; more bits than that are a mistake


def check_fields(
    fields: tuple[Field, ...],
    channels: tuple[str, ...],
    top: TomlTable,
    rows: tuple[TomlTable, ...],
) -> None:
    """Raise the file's error for the first field that can't be meant.

    `rows` are the tables that the fields came from, to name them in messages.
    """
    for field, row in zip(fields, rows, strict=True):
        _check_range(field, row)
    used = len(switches(fields))
    if used > _MOST_SWITCHES:
        raise top.error("field", f"expected at most {_MOST_SWITCHES} presence bits, found {used}")
    for setting in settings(fields):
        placed = place(fields, setting)
        _check_ends(placed, rows)
        _check_once(placed, len(channels), rows)
        _check_overlap(placed, fields, rows)
    for index, name in enumerate(channels):
        if not any(_is_smo2_of(field, index) for field in fields):
            raise top.error(
                "field", f"expected a field with quantity 'smo2' for channel {name!r}, found none"
            )


def fixed_length(fields: tuple[Field, ...]) -> int:
    """Return the shortest payload that holds all its fields, over all presence bits."""
    return min(
        max((one.end for one in place(fields, setting)), default=1) for setting in settings(fields)
    )


def representable(field: Field) -> tuple[float, float] | None:
    """Return the smallest and largest value a field can say; None where that is no matter."""
    if field.word.format.kind not in {Kind.UNSIGNED, Kind.SIGNED}:
        return None
    ends = field.scale.value(field.word.lowest), field.scale.value(field.word.highest)
    return min(ends), max(ends)


def _is_smo2_of(field: Field, channel: int) -> bool:
    return field.quantity is Quantity.SMO2 and field.channel == channel


def _check_range(field: Field, row: TomlTable) -> None:
    reach = representable(field)
    if reach is not None and (field.low > reach[1] or field.high < reach[0]):
        raise row.error(
            "valid",
            f"expected a part of what the format can say, {reach[0]:g} to {reach[1]:g}, "
            f"found {field.low:g} to {field.high:g}",
        )


def _check_ends(placed: tuple[Placed, ...], rows: tuple[TomlTable, ...]) -> None:
    for one in placed:
        if one.end > LONGEST_VALUE:
            raise rows[one.index].error(
                "offset", f"expected to end within {LONGEST_VALUE} octets, found {one.end}"
            )


def _check_once(placed: tuple[Placed, ...], channels: int, rows: tuple[TomlTable, ...]) -> None:
    told: dict[tuple[Quantity, int], int] = {}
    for one in placed:
        own = one.field.channel
        for channel in range(channels) if own is None else (own,):
            before = told.setdefault((one.field.quantity, channel), one.index)
            if before != one.index:
                raise rows[one.index].error(
                    "quantity",
                    f"expected once in a packet, found {one.field.key!r} again after "
                    f"field[{before}]",
                )


def _check_overlap(
    placed: tuple[Placed, ...], fields: tuple[Field, ...], rows: tuple[TomlTable, ...]
) -> None:
    asked = [one.present_if for one in fields] + [one.field.known_if for one in placed]
    taken = {8 * c.offset + c.bit: "a presence bit" for c in asked if c is not None}
    for one in placed:
        if one.field.shares:
            continue
        for bit in _bits(one.field.word, one.offset):
            other = taken.setdefault(bit, one.field.key)
            if other != one.field.key:
                raise rows[one.index].error(
                    "offset",
                    f"expected bits of its own, found octet {bit // 8} bit {bit % 8} taken by "
                    f"{other}; if that is meant, say shares = true",
                )


def _bits(word: Word, offset: int) -> list[int]:
    """Bits of the payload that the word takes, as octet × 8 + bit."""
    octets = range(word.format.octets)
    order = octets if word.little else octets[::-1]
    return [
        8 * (offset + order[bit // 8]) + bit % 8
        for bit in range(word.first_bit, word.first_bit + word.bits)
    ]
