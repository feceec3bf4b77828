"""The head: all of it comes back, later versions are refused, damage is named."""

import json
from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from recorded_events import A_HEAD, heads, json_values

from livemon.errors import RecordingError
from livemon.events import Athlete, Head
from livemon.record.head import HEAD_START, VERSION, NewerVersion, decode_head, encode_head


@given(heads)
def test_what_was_written_is_read_back(head: Head) -> None:
    line = encode_head(head)

    assert decode_head(line) == head
    assert line.encode("ascii").startswith(HEAD_START)
    assert "\n" not in line


def test_a_head_has_exactly_this_line() -> None:
    """Fixtures and other people's readers hang on these bytes."""
    assert encode_head(A_HEAD) == (
        '{"livemon":1,"started_utc":"2026-11-25T10:00:00+00:00","session":"k3f9",'
        '"athletes":[{"athlete":"a1","name":"Zo\\u00eb","band_bpm":null,"adipose_mm":null,'
        '"own_low_pct":{}}],'
        '"sensors":[{"sensor":"belt","name":"Belt","adapter":null},'
        '{"sensor":"oxi","name":"Oximeter","adapter":"plain"}],'
        '"assigned":[{"t_ns":0,"type":"assigned","sensor":"belt","athlete":"a1","sites":[]},'
        '{"t_ns":0,"type":"assigned","sensor":"oxi","athlete":"a1","sites":["left thigh"]}],'
        '"adapters":{"plain":"# \\u00b5\\n"}}'
    )


def test_a_later_format_is_refused_and_says_what_to_do() -> None:
    with pytest.raises(NewerVersion, match="update livemon") as caught:
        decode_head(f'{{"livemon":{VERSION + 1},"started":{{"all":"different"}}}}')

    assert caught.value.version == VERSION + 1


def test_the_least_that_a_head_has_to_say() -> None:
    """Keys that were added after a recording was made take their "not known"."""
    line = '{"livemon":1,"started_utc":"2026-11-25T10:00:00+00:00","session":"k"}'

    assert decode_head(line) == Head("2026-11-25T10:00:00+00:00", "k")


def test_keys_of_a_later_version_are_passed_over() -> None:
    record = json.loads(encode_head(A_HEAD)) | {"hall": "north"}
    record["athletes"][0]["shoe"] = 43

    assert decode_head(json.dumps(record)) == A_HEAD


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"livemon": 0}, "livemon"),
        ({"livemon": True}, "livemon"),
        ({"session": None}, "session"),
        ({"athletes": ["a1"]}, "athletes[0]"),
        ({"athletes": [{"athlete": "a", "band_bpm": [1, True]}]}, "band_bpm"),
        ({"athletes": [{"athlete": "a", "band_bpm": [1, 2, 3]}]}, "band_bpm"),
        ({"athletes": [{"athlete": "a", "band_bpm": 7}]}, "band_bpm"),
        ({"athletes": [{"athlete": "a", "adipose_mm": "thin"}]}, "adipose_mm"),
        ({"athletes": [{"athlete": "a", "own_low_pct": {"x": "deep"}}]}, "x"),
        ({"adapters": {"x": 7}}, "x"),
        ({"adapters": []}, "adapters"),
    ],
)
def test_damage_is_refused_and_the_key_named(changes: dict[str, object], key: str) -> None:
    record = json.loads(encode_head(A_HEAD)) | changes
    with pytest.raises(RecordingError) as caught:
        decode_head(json.dumps(record))

    assert caught.value.path == key


def test_a_name_twice_is_refused() -> None:
    twice = (("plain", ""), ("plain", ""))
    with pytest.raises(RecordingError, match="twice"):
        encode_head(replace(A_HEAD, adapters=twice))
    with pytest.raises(RecordingError, match="twice"):
        encode_head(replace(A_HEAD, athletes=(Athlete("a", "", own_low_pct=(("x", 1), ("x", 2))),)))


keys = st.sampled_from(
    ["livemon", "started_utc", "session", "athletes", "sensors", "assigned", "adapters"]
)


@example({"livemon": 0})
@example({"livemon": True})
@example({"athletes": [{"athlete": "a", "band_bpm": [1, True]}]})
@example({"athletes": [{"athlete": "a", "band_bpm": [1, 2, 3]}]})
@example({"athletes": [{"athlete": "a", "band_bpm": 7}]})
@example({"athletes": [{"athlete": "a", "own_low_pct": {"x": "deep"}}]})
@example({"assigned": ["a1"]})
@example({"adapters": {"x": 7}})
@given(st.dictionaries(keys, json_values, max_size=3))
def test_any_head_is_read_or_refused(changes: dict[str, object]) -> None:
    record = json.loads(encode_head(A_HEAD)) | changes
    try:
        head = decode_head(json.dumps(record))
    except RecordingError:
        return
    assert decode_head(encode_head(head)) == head
