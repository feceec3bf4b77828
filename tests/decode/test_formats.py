"""Format types against the Bluetooth SIG's Assigned Numbers, "Format Types"."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from livemon.decode.formats import FORMATS, Kind, Word, reader, write

# name, number and octets, as in the SIG's table; 12-bit formats take two octets.
ASSIGNED = [
    ("boolean", 0x01, 1),
    ("uint2", 0x02, 1),
    ("uint4", 0x03, 1),
    ("uint8", 0x04, 1),
    ("uint12", 0x05, 2),
    ("uint16", 0x06, 2),
    ("uint24", 0x07, 3),
    ("uint32", 0x08, 4),
    ("uint48", 0x09, 6),
    ("uint64", 0x0A, 8),
    ("uint128", 0x0B, 16),
    ("sint8", 0x0C, 1),
    ("sint12", 0x0D, 2),
    ("sint16", 0x0E, 2),
    ("sint24", 0x0F, 3),
    ("sint32", 0x10, 4),
    ("sint48", 0x11, 6),
    ("sint64", 0x12, 8),
    ("sint128", 0x13, 16),
    ("float32", 0x14, 4),
    ("float64", 0x15, 8),
    ("medfloat16", 0x16, 2),
    ("medfloat32", 0x17, 4),
]


def test_numbers_and_sizes_are_the_assigned_ones() -> None:
    known = [(name, form.code, form.octets) for name, form in FORMATS.items()]

    assert known == ASSIGNED


WHOLE = [name for name, form in FORMATS.items() if form.kind in {Kind.UNSIGNED, Kind.SIGNED}]


@pytest.mark.parametrize("little", [True, False])
@pytest.mark.parametrize("name", WHOLE)
@settings(max_examples=20)  # for each of 38 cases
@given(data=st.data())
def test_what_is_written_is_read_and_nothing_beside_it_changes(
    name: str, data: st.DataObject, *, little: bool
) -> None:
    form = FORMATS[name]
    first = data.draw(st.integers(0, form.bits - 1))
    word = Word(form, little, first, data.draw(st.integers(1, form.bits - first)))
    raw = data.draw(st.integers(word.lowest, word.highest))
    before = data.draw(st.binary(min_size=form.octets + 2, max_size=form.octets + 2))
    after = bytearray(before)

    write(word, 1, raw, after)

    assert reader(word, 1)(bytes(after)) == raw
    order = "little" if little else "big"
    changed = int.from_bytes(before[1:-1], order) ^ int.from_bytes(after[1:-1], order)
    assert changed & ~(((1 << word.bits) - 1) << first) == 0
    assert (after[0], after[-1]) == (before[0], before[-1])
