"""One event, one line: the same bytes each time, and nothing but an event or a typed error back."""

import json
import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from recorded_events import EACH_KIND, HEART_RATE, events, json_values

from livemon.errors import RecordingError
from livemon.events import Event, Mark, Notification
from livemon.record.lines import decode_event, encode_event


@pytest.mark.parametrize(("event", "line"), EACH_KIND, ids=lambda value: str(value)[:30])
def test_an_event_has_exactly_this_line(event: Event, line: str) -> None:
    """Fixtures and other people's readers hang on these bytes."""
    assert encode_event(event) == line
    assert decode_event(line) == event


@given(events)
def test_what_was_written_is_read_back(event: Event) -> None:
    line = encode_event(event)

    assert decode_event(line) == event
    assert decode_event(line.encode() + b"\r\n") == event
    assert encode_event(event) == line


@given(events)
def test_a_line_is_one_line_of_ascii_and_plain_json(event: Event) -> None:
    """The standard library's json is the oracle that any JSON reader can take it."""
    line = encode_event(event)

    assert line.isascii()
    assert "\n" not in line
    assert json.loads(line)["t_ns"] == event.t_ns


known_keys = st.sampled_from(
    [
        "t_ns", "type", "sensor", "char", "hex", "reason", "mark", "kind", "details", "at_ns",
        "replaces", "sites", "athlete", "missed_ns", "adapter", "band_bpm", "own_low_pct", "name",
    ]
)  # fmt: skip
known_types = st.sampled_from(
    ["data", "link_up", "link_down", "sensor", "athlete", "assigned", "mark", "gap", "end", "?"]
)
near_misses = st.tuples(
    st.dictionaries(known_keys, json_values), known_types, st.integers(-5, 2**65)
).map(lambda drawn: json.dumps({**drawn[0], "type": drawn[1], "t_ns": drawn[2]}).encode())


@example(b"[" * 100_000)
@example(b'{"a":' * 100_000)
@example(b'{"t_ns":' + b"9" * 5_000 + b',"type":"end"}')
@example(b'{"t_ns":-1,"type":"end"}')
@example(b'{"t_ns":9223372036854775808,"type":"end"}')
@example(b'{"t_ns":true,"type":"end"}')
@example(b'{"t_ns":1.0,"type":"end"}')
@example(b'{"t_ns":1,"type":"end"}x')
@example(b'{"t_ns":1,"type":["end"]}')
@example(b'{"t_ns":1,"type":"data","sensor":"b","char":[],"hex":"00"}')
@example(b'{"t_ns":1,"type":"data","sensor":"b","char":"2a3","hex":"00"}')
@example(b'{"t_ns":1,"type":"data","sensor":"b","char":"2a37","hex":"0"}')
@example(b'{"t_ns":1,"type":"mark","mark":"m","kind":"k","details":{"x":1e999}}')
@example(b'{"t_ns":1,"type":"mark","mark":"m","kind":"k","details":{"x":NaN}}')
@example(b'{"t_ns":1,"type":"mark","mark":"m","kind":"k","details":{"x":true}}')
@example(b"\xff\xfe{}")
@given(st.binary(max_size=200) | near_misses)
def test_any_line_gives_an_event_or_a_typed_error(line: bytes) -> None:
    assert_event_or_typed_error(line)


def assert_event_or_typed_error(line: bytes) -> None:
    """Anything but a RecordingError comes through and fails the test."""
    try:
        event = decode_event(line)
    except RecordingError:
        return
    assert event is None or decode_event(encode_event(event)) == event


@given(events, st.data())
def test_a_flipped_bit_gives_an_event_or_a_typed_error(event: Event, data: st.DataObject) -> None:
    line = bytearray(encode_event(event).encode())
    line[data.draw(st.integers(0, len(line) - 1))] ^= 1 << data.draw(st.integers(0, 7))

    assert_event_or_typed_error(bytes(line))


@pytest.mark.parametrize(
    ("line", "key"),
    [
        ('{"t_ns":-1,"type":"end"}', "t_ns"),
        ('{"t_ns":9223372036854775808,"type":"end"}', "t_ns"),
        ('{"t_ns":true,"type":"end"}', "t_ns"),
        ('{"t_ns":1.0,"type":"end"}', "t_ns"),
        ('{"type":"end"}', "t_ns"),
        ('{"t_ns":1}', "type"),
        ('{"t_ns":1,"type":"end"}x', ""),
        ('{"t_ns":1,"type":"end"}{}', ""),
        ("[]", ""),
        ('{"t_ns":1,"type":"data","sensor":"b","char":"2a3","hex":"00"}', "char"),
        ('{"t_ns":1,"type":"data","sensor":"b","char":7,"hex":"00"}', "char"),
        ('{"t_ns":1,"type":"data","sensor":"b","char":"2a37","hex":"0"}', "hex"),
        ('{"t_ns":1,"type":"data","sensor":"","char":"2a37","hex":"00"}', "sensor"),
        ('{"t_ns":1,"type":"gap","missed_ns":-1}', "missed_ns"),
        ('{"t_ns":1,"type":"mark","mark":"m","kind":"k","details":{"x":1e999}}', "details.x"),
        ('{"t_ns":1,"type":"mark","mark":"m","kind":"k","details":{"x":true}}', "details.x"),
        ('{"t_ns":1,"type":"mark","mark":"m","kind":"k","details":{"x":NaN}}', ""),
        ('{"t_ns":1,"type":"mark","mark":"m","kind":"k","at_ns":"1"}', "at_ns"),
        ('{"t_ns":1,"type":"assigned","sensor":"s","sites":[1]}', "sites"),
    ],
)
def test_damage_is_refused_and_the_key_named(line: str, key: str) -> None:
    with pytest.raises(RecordingError) as caught:
        decode_event(line)

    assert caught.value.path == key


def test_keys_of_a_later_version_are_passed_over() -> None:
    assert decode_event(
        '{"t_ns":1,"rssi":-70,"type":"data","sensor":"b","char":"2A37","hex":"06 3C"}'
    ) == Notification(1, "b", HEART_RATE, b"\x06\x3c")


def test_types_of_a_later_version_are_no_error() -> None:
    assert decode_event('{"t_ns":1,"type":"hologram"}') is None


@pytest.mark.parametrize("not_finite", [math.nan, math.inf, -math.inf])
def test_nan_is_never_written(not_finite: float) -> None:
    with pytest.raises(RecordingError, match="None"):
        encode_event(Mark(1, "m", None, "note", (("x", not_finite),)))


@pytest.mark.parametrize(
    "event",
    [
        pytest.param(Notification(1, "b", "2A37", b""), id="a UUID not in our form"),
        pytest.param(Mark(1, "m", None, "note", (("x", 1), ("x", 2))), id="a key twice"),
    ],
)
def test_what_a_line_cannot_hold_is_refused(event: Event) -> None:
    with pytest.raises(RecordingError):
        encode_event(event)


def test_names_the_key_that_is_wrong() -> None:
    with pytest.raises(RecordingError) as caught:
        decode_event('{"t_ns":1,"type":"link_up","sensor":7}')

    assert caught.value.path == "sensor"
    assert caught.value.problem == "expected text, found 7"
