"""A [[field]] that can't be meant is refused with file, key, expected and found."""

import pytest
from sound_adapter import SMO2, THB, TOP, second, smo2

from livemon.decode.adapter import parse_adapter
from livemon.errors import AdapterError

COUNTER = ('quantity = "sequence"', "offset = 2")

# path of the key, words that the message must have, the file
WRONG = [
    pytest.param("field[0]", "expected a table, found 3", TOP + "field = [3]", id="field no table"),
    pytest.param(
        "field[0].quantity",
        "expected one of smo2, thb, o2hb, hhb, contact, quality, sequence, device_time, battery, "
        "found 'spo2'; did you mean 'smo2'?",
        smo2('quantity = "spo2"', without="quantity"),
        id="quantity",
    ),
    pytest.param(
        "field[0].ofset",
        "unknown key; did you mean 'offset'?",
        smo2("ofset = 0"),
        id="misspelt key in a field",
    ),
    pytest.param(
        "field[0].format",
        "found 'int16'; did you mean 'uint16'?",
        smo2('format = "int16"', without="format"),
        id="format",
    ),
    pytest.param(
        "field[0].not_known[0]",
        "expected a whole number from -32768 to 32767, found -32769",
        smo2('format = "sint16"', "not_known = [-32769]", without="format"),
        id="not known below the format",
    ),
    pytest.param(
        "field[0].not_known[0]",
        "expected a whole number from -8 to 7, found 8",
        smo2('format = "sint16"', "bits = [4, 7]", "not_known = [8]", without="format"),
        id="not known beyond the bits",
    ),
    pytest.param(
        "field[0].scale.m",
        "expected a whole number other than 0, found 0",
        smo2("scale = { m = 0 }"),
        id="scale 0",
    ),
    pytest.param(
        "field[0].scale.d",
        "expected a whole number, found 0.1",
        smo2("scale = { d = 0.1 }"),
        id="scale as a fraction",
    ),
    pytest.param(
        "field[0].scale.m",
        "expected a whole number from -1000000 to 1000000, found 1000001",
        smo2("scale = { m = 1000001 }"),
        id="scale too large",
    ),
    pytest.param(
        "field[0].scale.d",
        "expected a whole number from -30 to 30, found 31",
        smo2("scale = { d = 31 }"),
        id="too many powers of ten",
    ),
    pytest.param(
        "field[0].scale.b",
        "expected a whole number from -64 to 64, found 65",
        smo2("scale = { b = 65 }"),
        id="too many powers of two",
    ),
    pytest.param("field[0].scale.x", "unknown key", smo2("scale = { x = 1 }"), id="scale key"),
    pytest.param("field[0].scale", "expected a table, found 0.1", smo2("scale = 0.1"), id="scale"),
    pytest.param(
        "field[0].unit", "expected one of %, found '1/100'", smo2('unit = "1/100"'), id="unit"
    ),
    pytest.param(
        "field[1].unit",
        "expected 1 to 16 printable characters",
        TOP + SMO2 + THB.replace("a.u.", "x" * 17),
        id="long unit",
    ),
    pytest.param(
        "field[1].unit", "missing", TOP + SMO2 + THB.replace('unit = "a.u."', ""), id="no unit"
    ),
    pytest.param(
        "field[0].valid",
        "expected the smaller number first, found [100, 0]",
        smo2("valid = [100, 0]"),
        id="valid upside down",
    ),
    pytest.param(
        "field[0].valid",
        "expected the smaller number first, found [40, 40]",
        smo2("valid = [40, 40]"),
        id="valid of one value",
    ),
    pytest.param(
        "field[0].valid[1]",
        "expected a number, found inf",
        smo2("valid = [0, inf]"),
        id="valid without end",
    ),
    pytest.param(
        "field[0].valid[1]",
        "expected a number, found a far larger number",
        smo2(f"valid = [0, {hex(1 << 20_000)}]"),
        id="valid to a number that Python does not write",
    ),
    pytest.param(
        "field[0].valid[1]",
        f"expected a number, found {str(1 << 1023)[:59]}…",
        smo2(f"valid = [0, {1 << 1023}]"),
        id="valid to a number that may be too large for a float",
    ),
    pytest.param(
        "field[0].unit",
        f"expected one of %, found '{'x' * 58}'",
        smo2(f'unit = "{"x" * 58}"'),
        id="60 characters are shown whole",
    ),
    pytest.param(
        "field[0].valid",
        "expected a part of what the format can say, 0 to 0.65535, found 20 to 90",
        smo2("valid = [20, 90]", "scale = { d = -5 }"),
        id="valid out of reach",
    ),
    pytest.param(
        "field[0].not_known[1]",
        "expected a whole number from 0 to 65535, found 65536",
        smo2("not_known = [0, 0x10000]"),
        id="not known beyond the format",
    ),
    pytest.param(
        "field[0].not_known[0]",
        "expected a whole number from 0 to 65535, found 6553.5",
        smo2("not_known = [6553.5]"),
        id="not known as a value, not raw",
    ),
    pytest.param(
        "field[0].not_known",
        "expected a list, found 65535",
        smo2("not_known = 65535"),
        id="not known no list",
    ),
    pytest.param(
        "field[0].channel",
        "missing",
        TOP + 'channels = ["a", "b"]' + SMO2,
        id="which of two channels",
    ),
    pytest.param(
        "field[0].channel",
        "expected one of muscle, found 'left'",
        smo2('channel = "left"'),
        id="channel that isn't",
    ),
    pytest.param(
        "field[0].modulo",
        "expected no such key with quantity 'smo2'",
        smo2("modulo = 100"),
        id="modulo of no counter",
    ),
    pytest.param(
        "field[0].rate_hz",
        "expected at the top of the file",
        smo2("rate_hz = 4.0"),
        id="top key below",
    ),
    pytest.param(
        "field[1].modulo",
        "expected a whole number from 2 to 256, found 257",
        second(*COUNTER, 'format = "uint8"', "modulo = 257"),
        id="modulo beyond the format",
    ),
    pytest.param(
        "field[1].format",
        "expected a uint or boolean, found 'sint8'",
        second(*COUNTER, 'format = "sint8"'),
        id="counter with a sign",
    ),
    pytest.param(
        "field[1].scale",
        "expected no such key with quantity 'sequence'",
        second(*COUNTER, 'format = "uint8"', "scale = { d = 1 }"),
        id="scale of a counter",
    ),
    pytest.param(
        "field[1].means_contact",
        "expected 1 to 64 raw numbers, found 0",
        second('quantity = "contact"', "offset = 2", 'format = "uint8"', "means_contact = []"),
        id="contact never",
    ),
    pytest.param(
        "field[1].channel",
        "expected no such key with quantity 'battery'",
        second('quantity = "battery"', "offset = 2", 'format = "uint8"', 'channel = "muscle"'),
        id="battery of one channel",
    ),
    pytest.param(
        "field[1].quantity",
        "expected once in a packet, found 'smo2' again after field[0]",
        TOP + SMO2 + SMO2.replace("offset = 0", "offset = 2"),
        id="SmO2 twice",
    ),
    pytest.param(
        "field",
        "expected at most 64, found 65",
        TOP + SMO2 + "shares = true" + (SMO2 + "shares = true") * 64,
        id="too many fields",
    ),
    pytest.param(
        "field[0].not_known",
        "expected at most 64, found 65",
        smo2(f"not_known = {list(range(65))}"),
        id="too many numbers that mean not known",
    ),
    pytest.param(
        "field[0].not_known[1]",
        "expected a number, found 'none'",
        smo2('format = "float32"', "not_known = [-1.5, 'none']", without="format"),
        id="a float that means not known is a word",
    ),
]


@pytest.mark.parametrize(("path", "words", "text"), WRONG)
def test_says_file_key_expected_and_found(path: str, words: str, text: str) -> None:
    with pytest.raises(AdapterError) as caught:
        parse_adapter(text, where="wrong.toml")

    assert caught.value.path == path
    assert words in caught.value.problem
    assert str(caught.value).startswith(f"wrong.toml: {path}")


@pytest.mark.parametrize("valid", ["[255, 300]", "[-5, 0]"])
def test_a_valid_range_may_meet_what_the_format_can_say_in_one_number(valid: str) -> None:
    text = TOP + SMO2.replace("uint16", "uint8") + f"valid = {valid}"

    assert parse_adapter(text, where="touch").layout.min_len == 1


def test_a_unit_has_up_to_16_characters() -> None:
    adapter = parse_adapter(TOP + SMO2 + THB.replace("a.u.", "x" * 16), where="unit")

    assert adapter.layout.fields[1].unit == "x" * 16


def test_64_numbers_may_mean_not_known() -> None:
    adapter = parse_adapter(smo2(f"not_known = {list(range(64))}"), where="many")

    assert adapter.layout.fields[0].not_known == tuple(range(64))


def test_a_float_may_have_a_number_with_decimals_that_means_not_known() -> None:
    text = smo2('format = "float32"', "not_known = [-1.5]", without="format")
    adapter = parse_adapter(text, where="float")

    assert adapter.encode({"smo2": None}) == bytes.fromhex("0000C0BF")  # IEEE 754: -1.5
    assert adapter.decode(bytes.fromhex("0000C0BF"), 0.0, sites=("calf",))[0].smo2_pct is None
