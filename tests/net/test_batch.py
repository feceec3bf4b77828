"""Batches: read back as they were written, and anything else refused without harm."""

import json

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.net.batch import (
    MAX_BYTES,
    MAX_LINES,
    TOO_LONG,
    Batch,
    decode_batch,
    encode_batch,
    fitting,
)
from livemon.net.trouble import MessageError

lines = st.lists(st.binary(max_size=100).filter(lambda line: b"\n" not in line), max_size=20)
whole = st.integers(0, 2**63 - 1)
sessions = st.from_regex(r"[a-z0-9]{1,40}", fullmatch=True)
batches = st.builds(
    Batch, sessions, whole.map(lambda n: max(n, 1)), whole, whole,
    lines.map(tuple),
)  # fmt: skip
GOOD = encode_batch(Batch("s", 7, 5, 6, (b"{}", b"{}")))


@given(batches)
def test_a_batch_is_read_back(batch: Batch) -> None:
    assert decode_batch(encode_batch(batch)) == batch


@example(GOOD[:-1])
@example(b"")
@example(b"[" * 50_000)
@given(st.binary(max_size=300))
def test_any_bytes_are_a_batch_or_refused(payload: bytes) -> None:
    try:
        batch = decode_batch(payload)
    except MessageError:
        return
    assert batch.last == batch.first + len(batch.lines) - 1


def changed(**values: object) -> bytes:
    header, rest = GOOD.split(b"\n", 1)
    return json.dumps(json.loads(header) | values).encode() + b"\n" + rest


@pytest.mark.parametrize(
    ("payload", "why"),
    [
        pytest.param(changed(batch=2), "version 2", id="another version"),
        pytest.param(changed(count=3), "says 3", id="fewer lines than it says"),
        pytest.param(changed(first=0), "first", id="lines are counted from 1"),
        pytest.param(changed(first=True), "first", id="true is not a number"),
        pytest.param(changed(first=1.0), "first", id="a fraction"),
        pytest.param(changed(sent_ns=-1), "sent_ns", id="sent before the session"),
        pytest.param(changed(sent_utc_ms=2**63), "sent_utc_ms", id="beyond 64 bits"),
        pytest.param(changed(session=""), "session", id="no session"),
        pytest.param(changed(session=None), "session", id="session unknown"),
        pytest.param(changed(session="../x"), "session", id="session that leads out of a folder"),
        pytest.param(b"[]\n{}", "no object", id="header is a list"),
        pytest.param(b"nonsense\n{}", "not JSON", id="header is no JSON"),
        pytest.param(b"x" * (MAX_BYTES + 1), "at most", id="too long"),
    ],
)
def test_what_is_wrong_with_a_batch_is_said(payload: bytes, why: str) -> None:
    with pytest.raises(MessageError, match=why):
        decode_batch(payload)


def test_keys_of_a_later_version_are_passed_over() -> None:
    assert decode_batch(changed(later="yes")) == decode_batch(GOOD)


@example([b"x" * 1000] * 100)
@example([b""] * (MAX_LINES + 1))
@given(st.lists(st.binary(max_size=5000).map(lambda b: b.replace(b"\n", b"")), min_size=1))
def test_what_fits_makes_a_batch_that_is_taken(some: list[bytes]) -> None:
    taken = fitting(some)

    assert taken == tuple(some[: len(taken)])
    assert 1 <= len(taken) <= MAX_LINES
    batch = Batch("s" * 40, 2**62, 2**62, 2**62, taken)
    assert decode_batch(encode_batch(batch)) == batch
    if len(taken) < min(len(some), MAX_LINES):  # one more would have been too much
        more = sum(len(line) + 1 for line in some[: len(taken) + 1])
        assert more > MAX_BYTES - 2048


def test_a_line_too_long_to_travel_leaves_a_trace_and_holds_nobody_up() -> None:
    assert fitting([b"a", b"x" * MAX_BYTES, b"b"]) == (b"a", TOO_LONG, b"b")
