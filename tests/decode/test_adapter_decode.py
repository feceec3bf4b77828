"""Reading packets by the shipped adapters; packets written by hand from each file's comment."""

import pytest
from sound_adapter import SMO2, THB, TOP

from livemon.decode.adapter import Adapter, parse_adapter
from livemon.decode.samples import BatterySample, OxygenationSample
from livemon.decode.shipped import shipped_adapters
from livemon.errors import DecodeError

SHIPPED = shipped_adapters()
PLAIN = parse_adapter(SHIPPED["invented-plain"], where="plain")
RICH = parse_adapter(SHIPPED["invented-rich"], where="rich")
DEMO = parse_adapter(SHIPPED["invented-demo"], where="demo")


def decode(adapter: Adapter, payload: str, *sites: str) -> tuple[object, ...]:
    return adapter.decode(bytes.fromhex(payload), 5.0, sites=sites, sensor="ox")


def test_three_adapters_are_shipped() -> None:
    assert list(SHIPPED) == ["invented-demo", "invented-plain", "invented-rich"]
    assert all("invented" in text.splitlines()[0] for text in SHIPPED.values())


@pytest.mark.parametrize(
    ("payload", "smo2_pct", "thb"),
    [
        pytest.param("7A 02 C4 04", 63.4, 12.2, id="634 tenths are 63.4, not 63.400000000000006"),
        pytest.param("00 00 00 00", 0.0, 0.0, id="0 is a value"),
        pytest.param("E8 03 B8 0B", 100.0, 30.0, id="highest valid"),
        pytest.param("E9 03 B9 0B", None, None, id="a step beyond valid is not known"),
        pytest.param("FF FF C4 04", None, 12.2, id="the raw value for no reading"),
        pytest.param("7A 02 C4 04 00 11 22", 63.4, 12.2, id="longer than needed"),
    ],
)
def test_plain(payload: str, smo2_pct: float | None, thb: float | None) -> None:
    assert decode(PLAIN, payload, "left calf") == (
        OxygenationSample(5.0, "left calf", smo2_pct, thb),
    )


def test_demo_off_the_skin_knows_nothing_of_the_muscle() -> None:
    assert decode(DEMO, "7A 02 B0 04 FF 01", "thigh") == (
        OxygenationSample(5.0, "thigh", 63.4, 12.0, contact=True, sequence=255),
    )
    assert decode(DEMO, "7A 02 B0 04 00 FE", "thigh") == (
        OxygenationSample(5.0, "thigh", None, None, contact=False, sequence=0),
    )


def test_rich_with_all_its_fields() -> None:
    """Flags all set; count 12, contact 2 = on; clock 12288/1024 s; F27A = 63.4, F266 = 61.4."""
    payload = "0F 8C 00 30 00 00 F2 7A F2 66 C8 03 00 FD 00 00 40 FF C0 57"

    assert decode(RICH, payload, "left", "right") == (
        OxygenationSample(5.0, "left", 63.4, None, True, 100.0, 12, 12.0, 12.0, -12.0),
        OxygenationSample(5.0, "right", 61.4, None, True, 100.0, 12, 12.0, 1.0, -1.0),
        BatterySample(5.0, "ox", 87),
    )


def test_rich_battery_moves_up_when_haemoglobin_is_not_sent() -> None:
    payload = "0D 8C 00 30 00 00 F2 7A F2 66 C8 57"

    assert decode(RICH, payload, "left", "right")[2] == BatterySample(5.0, "ox", 87)


def test_rich_reading_bits_and_contact() -> None:
    """Bit 2 clear: the upper probe has none. Contact 0: can't tell. Quality FF, NaN: not known."""
    payload = "08 0C 00 30 00 00 F2 7A 07 FF FF"

    assert decode(RICH, payload, "left", "right") == (
        OxygenationSample(5.0, "left", None, None, None, None, 12, 12.0),
        OxygenationSample(5.0, "right", None, None, None, None, 12, 12.0),
    )


def test_rich_battery_not_known_is_told_as_such() -> None:
    payload = "0D 8C 00 30 00 00 F2 7A F2 66 C8 FF"

    assert decode(RICH, payload, "left")[1:] == (BatterySample(5.0, "ox", None),)


def test_a_channel_without_a_site_is_left_out() -> None:
    payload = "0C 8C 00 30 00 00 F2 7A F2 66 C8"

    assert len(decode(RICH, payload, "left")) == 1
    assert decode(RICH, payload) == ()


@pytest.mark.parametrize(
    ("adapter", "payload", "problem"),
    [
        pytest.param(PLAIN, "", "ends before smo2", id="empty"),
        pytest.param(PLAIN, "7A", "ends before smo2", id="inside the first"),
        pytest.param(PLAIN, "7A 02 C4", "ends before thb", id="inside the second"),
        pytest.param(DEMO, "7A 02 B0 04 FF", "ends before contact", id="before a bit"),
        pytest.param(RICH, "", "ends before a presence bit", id="before the flags"),
        pytest.param(RICH, "02 8C 00 30 00 00 F2 7A F2 66", "ends before quality", id="rich"),
        pytest.param(
            RICH, "02 8C 00 30 00 00 F2 7A F2 66 C8 03", "ends before o2hb.upper", id="optional"
        ),
    ],
)
def test_a_short_packet_is_rejected_and_the_field_named(
    adapter: Adapter, payload: str, problem: str
) -> None:
    with pytest.raises(DecodeError) as caught:
        decode(adapter, payload, "left", "right")

    assert caught.value.problem == problem
    assert caught.value.characteristic == adapter.characteristic


def test_a_packet_below_min_len_is_rejected_though_all_fields_fit() -> None:
    text = SHIPPED["invented-plain"].replace("rate_hz", "min_len = 6\nrate_hz")
    adapter = parse_adapter(text, where="longer")

    with pytest.raises(DecodeError) as caught:
        decode(adapter, "7A 02 C4 04 00", "calf")

    assert caught.value.problem == "5 octets, expected at least 6"


def test_a_probe_that_is_not_in_the_packet_gives_no_sample() -> None:
    """Two probes that take turns: bit 0 of octet 0 says whose reading this is."""
    text = """
        livemon_adapter = 1
        name = "turns"
        service = "1822"
        characteristic = "2A5F"
        channels = ["a", "b"]
        [[field]]
        quantity = "smo2"
        channel = "a"
        offset = 1
        format = "uint8"
        present_if = { offset = 0, bit = 0, is = 0 }
        [[field]]
        quantity = "smo2"
        channel = "b"
        offset = 1
        format = "uint8"
        present_if = { offset = 0, bit = 0 }
    """
    adapter = parse_adapter(text, where="turns")

    assert decode(adapter, "00 32", "left", "right") == (OxygenationSample(5.0, "left", 50.0),)
    assert decode(adapter, "01 32", "left", "right") == (OxygenationSample(5.0, "right", 50.0),)


@pytest.mark.parametrize(
    ("form", "order", "wire", "value"),
    [
        ("uint8", "little", "3F", 63.0),
        ("sint8", "little", "C1", -63.0),
        ("uint12", "little", "3F F1", 319.0),  # the upper 4 bits don't count
        ("sint12", "little", "FF 0F", -1.0),
        ("uint16", "little", "3F 01", 319.0),
        ("uint16", "big", "01 3F", 319.0),
        ("sint16", "big", "FE C1", -319.0),
        ("uint24", "little", "01 02 03", 197121.0),
        ("uint24", "big", "03 02 01", 197121.0),
        ("sint24", "little", "FF FF FF", -1.0),
        ("uint32", "little", "01 02 03 04", 67305985.0),
        ("sint32", "big", "FF FF FF FE", -2.0),
        ("uint48", "little", "01 00 00 00 00 01", 1099511627777.0),
        ("sint48", "big", "FF FF FF FF FF FE", -2.0),
        ("uint64", "big", "00 00 00 01 00 00 00 02", 4294967298.0),
        ("sint64", "little", "FE FF FF FF FF FF FF FF", -2.0),
        ("uint128", "little", "02" + " 00" * 15, 2.0),
        ("sint128", "big", "FF " * 15 + "FE", -2.0),
        ("float32", "little", "00 00 7D 42", 63.25),  # IEEE 754 binary32
        ("float64", "big", "40 4F A0 00 00 00 00 00", 63.25),  # IEEE 754 binary64
        ("float32", "little", "00 00 C0 7F", None),  # NaN
        ("float32", "little", "00 00 80 7F", None),  # infinity
        ("medfloat16", "little", "6C F1", 36.4),  # 11073 worked example
        ("medfloat32", "little", "6C 01 00 FF", 36.4),  # 11073 worked example
        ("medfloat32", "big", "00 7F FF FF", None),  # NaN
        ("boolean", "little", "FF", 1.0),
        ("uint2", "little", "FE", 2.0),
        ("uint4", "little", "3F", 15.0),
    ],
)
def test_every_format(form: str, order: str, wire: str, value: float | None) -> None:
    text = f"""
        livemon_adapter = 1
        name = "one-format"
        service = "1822"
        characteristic = "2A5F"
        byte_order = "{order}"
        [[field]]
        quantity = "thb"
        offset = 1
        format = "{form}"
        unit = "a.u."
        [[field]]
        quantity = "smo2"
        offset = 0
        format = "uint8"
    """
    adapter = parse_adapter(text, where="one-format")

    assert decode(adapter, "32 " + wire, "calf") == (OxygenationSample(5.0, "calf", 50.0, value),)


def test_an_adapter_is_shown_without_what_it_has_learned_of_packets() -> None:
    assert "Reader" not in repr(PLAIN)
    assert repr(PLAIN).startswith("Adapter(connection=Connection(name='invented-plain'")


def test_an_adapter_tells_where_to_find_it_and_what_it_reads() -> None:
    assert RICH.service == RICH.connection.service
    assert RICH.characteristic == RICH.connection.characteristic
    assert (RICH.channels, DEMO.channels) == (("upper", "lower"), ("muscle",))
    assert (DEMO.sequence_modulo, PLAIN.sequence_modulo) == (256, None)


@pytest.mark.parametrize("form", ["uint16", "sint16", "medfloat16", "float32"])
def test_a_scale_that_makes_numbers_larger_multiplies(form: str) -> None:
    """2 × 3 × 10^1 × 2^1 is 120."""
    keys = f'format = "{form}"\nscale = {{ m = 3, d = 1, b = 1 }}\nvalid = [100, 200]\n'
    adapter = parse_adapter(TOP + SMO2.replace('format = "uint16"\n', keys), where=form)
    two = b"\0\0\0\x40" if form == "float32" else b"\2\0"  # IEEE 754: 2.0

    assert adapter.decode(two, 5.0, sites=("calf",)) == (OxygenationSample(5.0, "calf", 120.0),)


def test_a_first_field_that_follows_on_nothing_begins_the_packet() -> None:
    adapter = parse_adapter(TOP + SMO2.replace("offset = 0", 'offset = "next"'), where="next")

    assert adapter.layout.min_len == 2
    assert adapter.decode(b"\x3c\0", 5.0, sites=("calf",)) == (OxygenationSample(5.0, "calf", 60),)


def test_a_packet_has_to_hold_the_bit_that_says_if_a_value_is_known() -> None:
    text = TOP + SMO2 + "known_if = { offset = 4, bit = 0 }"
    adapter = parse_adapter(text, where="bit behind")

    assert adapter.decode(b"\x3c\0\0\0\1", 5.0, sites=("calf",)) == (
        OxygenationSample(5.0, "calf", 60),
    )
    with pytest.raises(DecodeError, match="ends before smo2"):
        adapter.decode(b"\x3c\0\0\0", 5.0, sites=("calf",))


@pytest.mark.parametrize(("is_set", "shortest"), [(1, 3), (0, 3)])
def test_without_min_len_a_packet_is_as_long_as_its_shortest_form(
    is_set: int, shortest: int
) -> None:
    thb = THB.replace("offset = 2", 'offset = "next"')
    thb += f"present_if = {{ offset = 0, bit = 0, is = {is_set} }}"
    text = TOP + SMO2.replace("offset = 0", "offset = 1") + thb

    assert parse_adapter(text, where="optional").layout.min_len == shortest


def test_a_packet_that_may_hold_no_field_has_an_octet() -> None:
    optional = SMO2.replace("offset = 0", "offset = 1") + "present_if = { offset = 0, bit = 0 }"

    assert parse_adapter(TOP + optional, where="none").layout.min_len == 1


@pytest.mark.parametrize(("said", "smo2_pct"), [("", 60), (", is = 1", 60), (", is = 0", None)])
def test_a_condition_holds_with_the_bit_set_unless_it_says_otherwise(
    said: str, smo2_pct: float | None
) -> None:
    text = TOP + SMO2 + f"known_if = {{ offset = 2, bit = 0{said} }}"
    (sample,) = decode(parse_adapter(text, where="bit"), "3c 00 01", "calf")

    assert sample.smo2_pct == smo2_pct


def test_a_field_may_have_another_byte_order_than_the_rest() -> None:
    fields = SMO2 + 'byte_order = "big"' + THB.replace("uint8", "uint16")
    sample = decode(parse_adapter(TOP + fields, where="mixed"), "00 3c 0c 00", "calf")[0]

    assert (sample.smo2_pct, sample.thb) == (60.0, 12.0)


def test_contact_may_be_told_of_one_channel_alone() -> None:
    fields = "".join(
        SMO2.replace("offset = 0", f'offset = {at}\nchannel = "{name}"')
        for at, name in ((0, "upper"), (2, "lower"))
    )
    contact = '[[field]]\nquantity = "contact"\noffset = 4\nformat = "uint8"\nchannel = "lower"\n'
    text = TOP + 'channels = ["upper", "lower"]' + fields + contact
    upper, lower = decode(parse_adapter(text, where="two"), "3c 00 3d 00 00", "vastus", "calf")

    assert (upper.smo2_pct, upper.contact) == (60.0, None)
    assert (lower.smo2_pct, lower.contact) == (None, False)
