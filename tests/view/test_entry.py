"""One typed line to marks."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.errors import UsageError
from livemon.monitor.mark_fields import MarkKind
from livemon.view.entry import Entry, read_entry

ROSTER = ("a", "b", "c")


@pytest.mark.parametrize(
    ("text", "kind", "entered"),
    [
        pytest.param("grip slips", MarkKind.NOTE, {"text": "grip slips"}, id="a note"),
        pytest.param("rpe 7", MarkKind.RPE, {"rpe_cr10": "7"}, id="perceived exertion"),
        pytest.param("RPE max", MarkKind.RPE, {"rpe_cr10": "max"}, id="off the scale"),
        pytest.param("la 4,2", MarkKind.LACTATE, {"lactate_mmol_l": "4,2"}, id="lactate"),
        pytest.param(
            "la 4.2 earlobe", MarkKind.LACTATE,
            {"lactate_mmol_l": "4.2", "sampling_site": "earlobe"}, id="lactate and where from",
        ),
        pytest.param("load 40", MarkKind.LOAD, {"load_kg": "40"}, id="kilograms"),
        pytest.param("load 250 W", MarkKind.LOAD, {"load_w": "250 W"}, id="watts"),
        pytest.param("reps 12", MarkKind.REPETITIONS, {"repetitions": "12"}, id="repetitions"),
        pytest.param("bout sled push", MarkKind.BOUT_START, {"work": "sled push"}, id="a bout"),
        pytest.param("bout", MarkKind.BOUT_START, {}, id="a bout without a name"),
        pytest.param("end 120", MarkKind.RECOVERY_START, {"planned_s": "120"}, id="a recovery"),
        pytest.param("rpe", MarkKind.NOTE, {"text": "rpe"}, id="a word alone is a note"),
    ],
)  # fmt: skip
def test_kinds(text: str, kind: MarkKind, entered: dict[str, str]) -> None:
    assert read_entry(text, ROSTER, "b") == (Entry("b", kind, tuple(entered.items())),)


@pytest.mark.parametrize(
    ("text", "athletes"),
    [
        pytest.param("rpe 7", ["b"], id="the chosen lane"),
        pytest.param("3 rpe 7", ["c"], id="a lane by its number"),
        pytest.param("1,3 rpe 7", ["a", "c"], id="several"),
        pytest.param("1,1 rpe 7", ["a"], id="each once"),
        pytest.param("all rpe 7", [None], id="everybody"),
    ],
)
def test_for_whom(text: str, athletes: list[str | None]) -> None:
    assert [entry.athlete for entry in read_entry(text, ROSTER, "b")] == athletes


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param("4 rpe 7", "no lane 4; lanes go from 1 to 3", id="no such lane"),
        pytest.param("0 rpe 7", "no lane 0", id="lanes count from one"),
        pytest.param("rpe 15", "expected", id="out of range"),
        pytest.param("3 reps left in her", "not a number", id="almost a note"),
        pytest.param("la blue", "lactate", id="no number"),
        pytest.param("", "nothing was entered", id="nothing"),
    ],
)
def test_refuses_with_a_reason(text: str, said: str) -> None:
    with pytest.raises(UsageError, match=said):
        read_entry(text, ROSTER, "b")


@given(st.text(max_size=40))
def test_whatever_is_typed_gives_marks_or_a_reason(text: str) -> None:
    with suppress(UsageError):
        assert read_entry(text, ROSTER, None)
