"""A field that can't be where it is said to be is refused with file, key, expected and found."""

import pytest
from sound_adapter import SMO2, THB, TOP, second, smo2

from livemon.decode.adapter import parse_adapter
from livemon.errors import AdapterError

# path of the key, words that the message must have, the file
WRONG = [
    pytest.param("field[0].offset", "missing", smo2("", without="offset"), id="no offset"),
    pytest.param(
        "field[0].offset",
        "expected a whole number or 'next', found 'behind'",
        smo2('offset = "behind"', without="offset"),
        id="offset in words",
    ),
    pytest.param(
        "field[0].offset",
        "expected a whole number from 0 to 511, found -1",
        smo2("offset = -1", without="offset"),
        id="offset below 0",
    ),
    pytest.param(
        "field[0].offset",
        "expected to end within 512 octets, found 513",
        smo2("offset = 511", without="offset"),
        id="offset too far",
    ),
    pytest.param(
        "field[0].bits", "expected a list of two, found [1]", smo2("bits = [1]"), id="one bit"
    ),
    pytest.param(
        "field[0].bits[1]",
        "expected a whole number from 4 to 15, found 16",
        smo2("bits = [4, 16]"),
        id="bits beyond the format",
    ),
    pytest.param(
        "field[0].bits[0]",
        "expected a whole number from 0 to 15, found 16",
        smo2("bits = [16, 16]"),
        id="first bit beyond the format",
    ),
    pytest.param(
        "field[0].bits",
        "expected a uint or sint format with it, found 'float32'",
        smo2('format = "float32"', "bits = [0, 3]", without="format"),
        id="bits of a float",
    ),
    pytest.param(
        "field[0].present_if.bit",
        "expected a whole number from 0 to 7, found 8",
        smo2("present_if = { offset = 4, bit = 8 }"),
        id="presence bit",
    ),
    pytest.param(
        "field[0].present_if.is",
        "expected a whole number from 0 to 1, found 2",
        smo2("present_if = { offset = 4, bit = 1, is = 2 }"),
        id="a bit that is 2",
    ),
    pytest.param(
        "field[0].present_if.offset",
        "expected a whole number from 0 to 511, found 512",
        smo2("present_if = { offset = 512, bit = 0 }"),
        id="presence bit beyond the longest packet",
    ),
    pytest.param(
        "field[0].present_if.set",
        "unknown key",
        smo2("present_if = { offset = 4, bit = 1, set = 1 }"),
        id="presence bit key",
    ),
    pytest.param(
        "field[0].known_if.offset",
        "missing",
        smo2("known_if = { bit = 1 }"),
        id="known bit without octet",
    ),
    pytest.param(
        "field[1].offset",
        "expected bits of its own, found octet 1 bit 0 taken by smo2",
        TOP + SMO2 + THB.replace("offset = 2", "offset = 1"),
        id="overlap",
    ),
    pytest.param(
        "field[2].offset",
        "found octet 0 bit 0 taken by smo2",
        second('quantity = "quality"', "offset = 0", 'format = "uint8"', "shares = true")
        + THB.replace("offset = 2", "offset = 0"),
        id="overlap behind a field that may",
    ),
    pytest.param(
        "field[1].offset",
        "found octet 1 bit 0 taken by smo2",
        smo2("bits = [0, 7]", 'byte_order = "big"') + THB.replace("offset = 2", "offset = 1"),
        id="overlap with the low octet, which is the second",
    ),
    pytest.param(
        "field[0].offset",
        "found octet 1 bit 7 taken by a presence bit",
        smo2("present_if = { offset = 1, bit = 7 }"),
        id="overlap with its own presence bit",
    ),
]


@pytest.mark.parametrize(("path", "words", "text"), WRONG)
def test_says_file_key_expected_and_found(path: str, words: str, text: str) -> None:
    with pytest.raises(AdapterError) as caught:
        parse_adapter(text, where="wrong.toml")

    assert caught.value.path == path
    assert words in caught.value.problem
    assert str(caught.value).startswith(f"wrong.toml: {path}")


def test_fields_that_say_so_may_share_bits() -> None:
    text = TOP + SMO2 + THB.replace("offset = 2", "offset = 1\nshares = true")

    assert parse_adapter(text, where="shared").layout.min_len == 2


def test_a_field_may_end_with_the_longest_packet() -> None:
    adapter = parse_adapter(smo2("offset = 510", without="offset"), where="last")

    assert adapter.layout.min_len == 512


def test_the_high_octet_is_free_where_a_word_takes_only_the_low_one() -> None:
    text = smo2("bits = [0, 7]", 'byte_order = "big"') + THB.replace("offset = 2", "offset = 0")

    assert parse_adapter(text, where="high").layout.min_len == 2


def test_a_presence_bit_may_be_in_the_last_octet_that_a_packet_can_have() -> None:
    adapter = parse_adapter(smo2("present_if = { offset = 511, bit = 7 }"), where="last")

    assert len(adapter.encode({"smo2": 60.0})) == 512
