"""The log of warnings in a recording: what each line says, and what became of each warning."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from recorded_events import A_HEAD, beat

from livemon.errors import RecordingError
from livemon.record.lines import decode_event
from livemon.record.reader import open_recording
from livemon.record.side_lines import decode_side_line, encode_side_line
from livemon.record.warning_lines import Happened, WarningLine
from livemon.record.warning_log import Logged, logged, warning_log
from livemon.record.writer import Journal

ON = WarningLine(9, Happened.ON, "a1", "left thigh", "caution", 4.1, 24.0, 158.0)
OFF = WarningLine(50, Happened.OFF, "a1", "left thigh", reason="level")


def did(t_ns: int, what: Happened, **more: object) -> WarningLine:
    return replace(WarningLine(t_ns, what, "a1"), **more)  # type: ignore[arg-type] # by name


def test_a_line_says_only_what_is_known() -> None:
    assert encode_side_line(ON) == (
        '{"t_ns":9,"type":"warning","what":"on","athlete":"a1","site":"left thigh",'
        '"priority":"caution","fall_rate_pct_per_min":4.1,"falling_for_s":24.0,"bpm":158.0}'
    )
    assert encode_side_line(did(12, Happened.SEEN)) == (
        '{"t_ns":12,"type":"warning","what":"seen","athlete":"a1"}'
    )


numbers = st.none() | st.floats(allow_nan=False, allow_infinity=False)
texts = st.text(min_size=1, max_size=9)


@given(
    st.builds(
        WarningLine, st.integers(0, 2**62), st.sampled_from(Happened), texts, st.none() | texts,
        st.none() | st.sampled_from(("caution", "drain")), numbers, numbers, numbers,
        st.text(max_size=9), st.none() | st.integers(1, 2**62),
    )
)  # fmt: skip
def test_every_line_comes_back_and_is_no_event(line: WarningLine) -> None:
    text = encode_side_line(line)

    assert decode_side_line(text) == line
    assert decode_event(text) is None


@pytest.mark.parametrize(
    "line",
    [
        '{"t_ns":-1,"type":"warning","what":"on","athlete":"a1"}',
        '{"t_ns":1,"type":"warning","what":"on"}',
        '{"t_ns":1,"type":"warning","athlete":"a1"}',
        '{"t_ns":1,"type":"warning","what":"on","athlete":"a1","priority":"loud"}',
        '{"t_ns":1,"type":"warning","what":"on","athlete":"a1","bpm":"fast"}',
    ],
)
def test_a_damaged_line_is_an_error(line: str) -> None:
    with pytest.raises(RecordingError):
        decode_side_line(line)


def test_what_a_later_version_says_is_passed_over() -> None:
    assert decode_side_line('{"t_ns":1,"type":"warning","what":"sung","athlete":"a1"}') is None


def test_a_warning_with_all_that_became_of_it() -> None:
    raised = did(20, Happened.RAISED, site="left thigh", priority="drain")

    assert logged([ON, raised, did(30, Happened.SEEN), did(31, Happened.SEEN), OFF]) == (
        Logged(ON, "drain", raised_ns=20, seen_ns=30, off_ns=50, reason="level"),
    )


def test_seen_after_it_was_over_or_never() -> None:
    again = replace(ON, t_ns=60)

    log = logged([ON, OFF, did(55, Happened.SEEN), again])
    assert [(entry.seen_ns, entry.off_ns) for entry in log] == [(55, 50), (None, None)]


def test_what_happens_to_others_changes_nothing() -> None:
    others = (
        replace(OFF, site="right calf"), replace(OFF, athlete="a2"),
        replace(did(3, Happened.SEEN), athlete="a2"), replace(OFF, t_ns=70),
    )  # fmt: skip

    assert logged([ON, *others[:3]]) == (Logged(ON, "caution"),)
    assert logged([ON, OFF, others[3]])[0].off_ns == 50


@pytest.mark.parametrize(
    ("before", "quiet"),
    [
        ((), False),
        ((did(1, Happened.ASIDE, until_ns=10),), True),
        ((did(1, Happened.ASIDE, until_ns=9),), False),
        ((did(1, Happened.OUT),), True),
        ((did(1, Happened.OUT), did(5, Happened.BACK)), False),
    ],
)
def test_whether_the_lane_was_quiet_when_it_began(
    before: tuple[WarningLine, ...], quiet: bool
) -> None:
    assert [entry.quiet for entry in logged([*before, ON])] == [quiet]


def test_set_aside_while_it_is_on() -> None:
    assert logged([ON, did(20, Happened.ASIDE, until_ns=99)])[0].quiet
    assert not logged([ON, OFF, did(60, Happened.ASIDE, until_ns=99)])[0].quiet


def test_lines_wait_for_a_full_disk_as_marks_do(tmp_path: Path) -> None:
    from small_disk import SmallDisk

    path, disk = tmp_path / "r.jsonl", SmallDisk(10_000)
    journal = Journal(path, A_HEAD, now_s=0.0, write=disk.write)
    disk.room = 0
    journal.append(beat(1), now_s=0.0)
    journal.note(ON, now_s=0.0)
    assert warning_log(path) == ()
    assert journal.report.waiting == 2

    disk.room = 10_000
    journal.tick(now_s=60.0)
    journal.note(OFF, now_s=60.0)
    journal.close(now_s=60.0)
    assert [entry.off_ns for entry in warning_log(path)] == [50]
    assert list(open_recording(path).events()) == [beat(1)]
    with pytest.raises(RecordingError):
        journal.note(ON, now_s=61.0)
