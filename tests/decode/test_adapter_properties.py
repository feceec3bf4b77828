"""What must hold for any adapter and any bytes."""

from itertools import product

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from random_adapter import adapters

from livemon.decode.adapter import Adapter, parse_adapter
from livemon.decode.formats import Kind
from livemon.decode.layout import Field, Quantity
from livemon.decode.samples import BatterySample, OxygenationSample
from livemon.decode.shipped import shipped_adapters
from livemon.errors import DecodeError

SHIPPED = [parse_adapter(text, where=name) for name, text in shipped_adapters().items()]

GOLDEN = {
    "invented-demo": "7A 02 B0 04 FF 01",
    "invented-plain": "7A 02 C4 04",
    "invented-rich": "0F 8C 00 30 00 00 F2 7A F2 66 C8 03 00 FD 00 00 40 FF C0 57",
}


def sound(samples: tuple[OxygenationSample | BatterySample, ...]) -> bool:
    """Nothing in the samples is NaN, infinite or out of the range of its quantity."""
    for sample in samples:
        if isinstance(sample, BatterySample):
            percents = [sample.battery_pct]
        else:
            percents = [sample.smo2_pct, sample.quality_pct]
            for value in (sample.thb, sample.o2hb, sample.hhb, sample.device_t_s):
                if value is not None and not abs(value) < float("inf"):
                    return False
            if sample.contact is False and sample.smo2_pct is not None:
                return False
        if any(percent is not None and not 0 <= percent <= 100 for percent in percents):
            return False
    return True


def decode(adapter: Adapter, payload: bytes) -> tuple[OxygenationSample | BatterySample, ...]:
    """Decode for two sites; a rejection gives nothing."""
    try:
        return adapter.decode(payload, 0.0, sites=("left", "right"), sensor="ox")
    except DecodeError:
        return ()


@pytest.mark.parametrize("adapter", SHIPPED, ids=lambda a: a.name)
@given(payload=st.binary(max_size=64))
def test_any_bytes_give_sound_samples_or_a_rejection(adapter: Adapter, payload: bytes) -> None:
    assert sound(decode(adapter, payload))


@pytest.mark.parametrize("adapter", SHIPPED, ids=lambda a: a.name)
def test_every_prefix_of_a_good_packet_is_read_or_rejected(adapter: Adapter) -> None:
    golden = bytes.fromhex(GOLDEN[adapter.name])
    for size in range(len(golden)):
        with pytest.raises(DecodeError, match="ends before"):
            adapter.decode(golden[:size], 0.0, sites=("left", "right"))


@pytest.mark.parametrize("adapter", SHIPPED, ids=lambda a: a.name)
def test_every_bit_flip_of_a_good_packet_is_read_or_rejected(adapter: Adapter) -> None:
    golden = bytes.fromhex(GOLDEN[adapter.name])
    for at, bit in product(range(len(golden)), range(8)):
        flipped = bytearray(golden)
        flipped[at] ^= 1 << bit
        assert sound(decode(adapter, bytes(flipped)))


@settings(max_examples=150)
@given(adapters(), st.binary(max_size=80))
def test_any_bytes_into_any_adapter(text: str, payload: bytes) -> None:
    adapter = parse_adapter(text, where="drawn")

    assert sound(decode(adapter, payload))


@settings(max_examples=150)
@given(adapters(), st.binary(max_size=20) | st.binary(min_size=70, max_size=90))
def test_explain_never_fails_and_agrees_with_decode(text: str, payload: bytes) -> None:
    adapter = parse_adapter(text, where="drawn")
    readings = {one.key: one for one in adapter.explain(payload)}

    assert list(readings) == [field.key for field in adapter.layout.fields]
    assert all((one.value is None) == bool(one.why) for one in readings.values())
    samples = decode(adapter, payload)
    for site, channel in (("left", "a"), ("right", "b")):
        for sample in samples:
            if isinstance(sample, OxygenationSample) and sample.site == site:
                assert sample.sequence == readings["sequence"].value
                assert sample.device_t_s == readings["device_time"].value
                if sample.contact is not False:
                    assert sample.smo2_pct == readings[f"smo2.{channel}"].value


def resolution(field: Field, value: float) -> float:
    """Half a raw step, or the precision of the float format."""
    step = abs(field.scale.value(1))
    relative = {"float32": 2**-24, "float64": 0.0, "medfloat16": 1 / 400, "medfloat32": 1e-6}
    if field.word.format.kind in {Kind.FLOAT, Kind.MEDFLOAT}:
        return abs(value) * relative[field.word.format.name] + step * 1e-7
    return step / 2


def largest(field: Field) -> float:
    """Largest value that is worth drawing for a field."""
    if field.quantity is Quantity.CONTACT:
        return 1
    if field.word.format.kind in {Kind.FLOAT, Kind.MEDFLOAT}:
        return 100.0
    return min(100.0, field.scale.value(field.word.highest))


@settings(max_examples=200)
@given(st.data(), adapters())
def test_what_is_encoded_is_decoded(data: st.DataObject, text: str) -> None:
    """Within half a step of each field; whole numbers exactly; unknown stays unknown."""
    adapter = parse_adapter(text, where="drawn")
    values: dict[str, float | None] = {}
    for field in adapter.layout.fields:
        whole = field.quantity in {Quantity.SEQUENCE, Quantity.CONTACT}
        numbers = st.floats(0, largest(field))
        drawn = st.integers(0, int(largest(field))) if whole else numbers
        can_be_none = field.known_if is not None
        values[field.key] = data.draw(st.none() | drawn if can_be_none else drawn)

    readings = {one.key: one for one in adapter.explain(adapter.encode(values))}

    for field in adapter.layout.fields:
        value, read = values[field.key], readings[field.key].value
        if value is None:
            assert read is None
        elif field.quantity in {Quantity.SEQUENCE, Quantity.CONTACT}:
            assert read == value
        else:
            assert read == pytest.approx(value, abs=resolution(field, value) * (1 + 1e-9))


@example(smo2=0.0, thb=0.0, sequence=0, contact=True)
@example(smo2=100.0, thb=655.34, sequence=255, contact=True)
@example(smo2=None, thb=None, sequence=255, contact=False)
@given(
    smo2=st.none() | st.floats(0, 100),
    thb=st.none() | st.floats(0, 655.34),
    sequence=st.integers(0, 255),
    contact=st.booleans(),
)
def test_demo_packets_come_back(
    smo2: float | None, thb: float | None, sequence: int, contact: bool
) -> None:
    adapter = SHIPPED[0]
    payload = adapter.encode({"smo2": smo2, "thb": thb, "sequence": sequence, "contact": contact})

    (sample,) = adapter.decode(payload, 0.0, sites=("thigh",))

    assert isinstance(sample, OxygenationSample)
    assert (sample.sequence, sample.contact) == (sequence, contact)
    if smo2 is None or not contact:
        assert sample.smo2_pct is None
    else:
        assert sample.smo2_pct == pytest.approx(smo2, abs=0.05 + 1e-9)
