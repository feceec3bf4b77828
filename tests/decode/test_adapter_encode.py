"""Making packets by an adapter: what can't be said is refused in words."""

from math import inf, nextafter

import pytest
from sound_adapter import SMO2, THB, TOP, second

from livemon.decode.adapter import parse_adapter
from livemon.decode.shipped import shipped_adapters
from livemon.errors import UsageError

SHIPPED = shipped_adapters()
PLAIN = parse_adapter(SHIPPED["invented-plain"], where="plain")
RICH = parse_adapter(SHIPPED["invented-rich"], where="rich")
DEMO = parse_adapter(SHIPPED["invented-demo"], where="demo")


def test_plain_packet_by_hand() -> None:
    """634 is 02 7A and 1220 is 04 C4, low octet first."""
    assert PLAIN.encode({"smo2": 63.4, "thb": 12.2}).hex(" ") == "7a 02 c4 04"


def test_what_is_not_known_gets_its_raw_number() -> None:
    assert PLAIN.encode({"smo2": None}).hex(" ") == "ff ff ff ff"


def test_optional_fields_come_only_when_asked_for() -> None:
    always = {"sequence": 12, "contact": True, "device_time": 12.0, "quality": 100}
    smo2 = {"smo2.upper": 63.4, "smo2.lower": None}

    assert RICH.encode(always | smo2).hex(" ") == "04 8c 00 30 00 00 f2 7a 07 ff c8"
    assert RICH.encode(always | smo2 | {"battery": 87}).hex(" ").endswith("ff c8 57")
    assert len(RICH.encode(always | smo2 | {"hhb.lower": 1.0})) == 19


def test_contact_takes_the_raw_numbers_that_the_file_names() -> None:
    """2 means on; of the others, 0 means can't tell, so that off is 1."""
    always = {"sequence": 0, "device_time": 0, "quality": 0}

    assert RICH.encode(always | {"contact": True})[1] == 2 << 6
    assert RICH.encode(always | {"contact": False})[1] == 1 << 6
    assert RICH.encode(always | {"contact": None})[1] == 0


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"spo2": 98.0}, "'spo2' is no field of this adapter; it has smo2, thb, sequence, contact"),
        ({"smo2": 101.0}, "smo2: 101 is outside 0 to 100"),
        ({"thb": 700.0}, "thb: 700 does not fit uint16"),
        ({"thb": 655.35}, "thb: 655.35 would be read as 'not known'"),
        ({"sequence": 256}, "sequence: 256 does not fit uint8"),
    ],
)
def test_what_can_not_be_said(values: dict[str, float | None], words: str) -> None:
    with pytest.raises(UsageError, match=words):
        DEMO.encode({"sequence": 0, "contact": True} | values)


def test_a_counter_can_not_be_unknown() -> None:
    with pytest.raises(UsageError, match="sequence has no raw number for 'not known'"):
        DEMO.encode({"smo2": 50.0, "thb": 1.0})


def test_a_float_takes_what_fits_and_no_more() -> None:
    """The largest IEEE 754 binary32 is (2 - 2^-23) * 2^127."""
    text = SHIPPED["invented-plain"].replace('"uint16"\nscale = { d = -2 }', '"float32"')
    text = text.replace("valid = [0, 30]\nnot_known = [0xFFFF]", "")
    adapter = parse_adapter(text, where="float")
    largest = float.fromhex("0x1.fffffep+127")

    assert adapter.encode({"smo2": 0.0, "thb": largest}).hex(" ") == "00 00 ff ff 7f 7f"
    for more in (nextafter(largest, inf), 2.0**128):
        with pytest.raises(UsageError, match="does not fit float32"):
            adapter.encode({"smo2": 0.0, "thb": more})


BITS = TOP + SMO2.replace("offset = 0", "offset = 1")


def test_fields_that_exclude_each_other_can_not_be_sent_together() -> None:
    """One presence bit: set for SmO2, clear for total haemoglobin."""
    thb = THB + "present_if = { offset = 0, bit = 0, is = 0 }"
    adapter = parse_adapter(BITS + "present_if = { offset = 0, bit = 0 }" + thb, where="either")

    assert adapter.encode({"smo2": 2}) == b"\1\2\0"
    with pytest.raises(UsageError, match="no packet of this adapter holds smo2, thb together"):
        adapter.encode({"smo2": 2, "thb": 3})


def test_a_bit_that_makes_one_value_known_and_another_unknown_allows_only_one() -> None:
    thb = THB.replace("offset = 2", "offset = 3") + "known_if = { offset = 0, bit = 0, is = 0 }"
    adapter = parse_adapter(BITS + "known_if = { offset = 0, bit = 0 }" + thb, where="either")

    assert adapter.encode({"smo2": 2}) == b"\1\2\0\0"
    assert adapter.encode({"thb": 3}) == b"\0\0\0\3"
    with pytest.raises(UsageError, match="thb can't be known together with the others"):
        adapter.encode({"smo2": 2, "thb": 3})


@pytest.mark.parametrize(
    ("keys", "touches", "words"),
    [("not_known = [0]", False, "no contact"), ("means_contact = [0, 1]", False, "no contact"),
     ("not_known = [1]", True, "contact")],
)  # fmt: skip
def test_contact_that_the_format_can_not_say_is_refused(
    keys: str, touches: bool, words: str
) -> None:
    contact = ('quantity = "contact"', "offset = 2", 'format = "uint8"', "bits = [0, 0]", keys)
    adapter = parse_adapter(second(*contact), where="one bit")

    assert adapter.encode({"smo2": 1, "contact": not touches})[:2] == b"\1\0"
    with pytest.raises(UsageError, match=f"contact has no raw number for {words}"):
        adapter.encode({"smo2": 1, "contact": touches})


@pytest.mark.parametrize(("form", "nan"), [("medfloat16", "ff07"), ("medfloat32", "ffff7f00")])
def test_a_medical_float_that_is_not_known_is_its_nan(form: str, nan: str) -> None:
    """ISO/IEEE 11073-20601: 0x07FF and 0x007FFFFF."""
    adapter = parse_adapter(TOP + SMO2.replace("uint16", form), where=form)

    assert adapter.encode({"smo2": None}).hex() == nan


def test_a_field_that_is_there_only_while_it_is_known_is_left_out_when_it_is_not() -> None:
    bit = "{ offset = 0, bit = 3 }"
    text = BITS + f"present_if = {bit}\nknown_if = {bit}"
    adapter = parse_adapter(text, where="one bit for both")

    assert adapter.encode({"smo2": 5.0}) == b"\x08\5\0"
    assert adapter.encode({"smo2": None}) == b"\0\0\0"


def test_a_bit_behind_all_fields_makes_the_packet_long_enough_for_it() -> None:
    adapter = parse_adapter(TOP + SMO2 + "known_if = { offset = 4, bit = 0 }", where="behind")

    assert adapter.encode({"smo2": 60}) == b"\x3c\0\0\0\1"
    assert adapter.encode({"smo2": None}) == b"\0\0\0\0\0"
