"""Lines of a recording that are no events."""

import pytest

from livemon.errors import RecordingError
from livemon.record.lines import decode_event
from livemon.record.side_lines import About, Lost, decode_side_line, encode_side_line


def test_a_journal_owns_up_to_what_it_lost() -> None:
    line = encode_side_line(Lost(5, 12))

    assert line == '{"t_ns":5,"type":"lost","events":12}'
    assert decode_event(line) is None
    assert decode_side_line(line) == Lost(5, 12)


def test_people_call_a_recording_something() -> None:
    line = encode_side_line(About("Hall", ("class", "Zoë")))

    assert line == '{"type":"about","title":"Hall","tags":["class","Zo\\u00eb"]}'
    assert decode_event(line) is None
    assert decode_side_line(line) == About("Hall", ("class", "Zoë"))


def test_a_side_line_of_a_later_version_is_none() -> None:
    assert decode_side_line('{"t_ns":5,"type":"hologram","events":12}') is None


@pytest.mark.parametrize(
    "line",
    [
        '{"t_ns":5,"type":"lost","events":-1}',
        '{"type":"about","tags":[7]}',
        '{"type":"about","title":7}',
    ],
)
def test_a_damaged_side_line_is_an_error(line: str) -> None:
    with pytest.raises(RecordingError):
        decode_side_line(line)
