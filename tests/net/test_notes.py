"""The small messages: read back as written, anything else refused."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.net.notes import Have, State, decode_have, decode_state, encode_have, encode_state
from livemon.net.trouble import MessageError

sessions = st.from_regex(r"[a-z0-9]([a-z0-9-]{0,38}[a-z0-9])?", fullmatch=True)


@given(st.builds(State, sessions, st.booleans(), st.lists(sessions, max_size=5).map(tuple)))
def test_a_state_is_read_back(state: State) -> None:
    assert decode_state(encode_state(state)) == state


@given(st.builds(Have, sessions, st.integers(0, 2**63 - 1)))
def test_the_hubs_word_is_read_back(have: Have) -> None:
    assert decode_have(encode_have(have)) == have


@example(b"[" * 4000)
@given(st.binary(max_size=100))
def test_any_bytes_are_a_note_or_refused(payload: bytes) -> None:
    for decode in (decode_state, decode_have):
        with pytest.raises(MessageError):
            decode(payload)


@pytest.mark.parametrize(
    ("payload", "why"),
    [
        pytest.param(b'{"state":2,"session":"s","there":true}', "version", id="version"),
        pytest.param(b'{"state":1,"session":"","there":true}', "no session", id="no session"),
        pytest.param(b'{"state":1,"session":"s","there":1}', "whether", id="a number as yes"),
        pytest.param(
            b'{"state":1,"session":"s","there":true,"earlier":[1]}',
            "no session",
            id="a number",
        ),
        pytest.param(b'{"state":1}' + b" " * 5000, "5011 bytes", id="too long"),
    ],
)
def test_what_is_wrong_with_a_state_is_said(payload: bytes, why: str) -> None:
    with pytest.raises(MessageError, match=why):
        decode_state(payload)


@pytest.mark.parametrize("stored", ["-1", "1.0", "true", "null", "9223372036854775808"])
def test_a_hub_counts_whole_lines(stored: str) -> None:
    with pytest.raises(MessageError, match="how much"):
        decode_have(f'{{"have":1,"session":"s","stored":{stored}}}'.encode())
