"""Bouts and recoveries come out of marks, also of those entered late."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.events import Mark, MarkValue
from livemon.monitor.bout_notes import BoutNotes, lactates_of, notes_of
from livemon.monitor.bouts import Bout, Phase, bout_spans, bout_state, bouts_of
from livemon.monitor.corrections import MarkBook
from livemon.monitor.lactate import LactateSample
from livemon.monitor.marks import correction, withdrawal
from livemon.monitor.snapshot import BoutState

S = 1_000_000_000


def mark(
    at_s: int, kind: str, athlete: str | None = "a1", *, late_s: int = 0, **details: MarkValue
) -> Mark:
    at_ns = at_s * S if late_s else None
    name = f"{kind}@{at_s}/{athlete}"
    return Mark((at_s + late_s) * S, name, athlete, kind, tuple(details.items()), at_ns)


def told(*marks: Mark, athlete: str = "a1") -> list[tuple[int, str, int, int | None]]:
    """Return (number, phase, start, end) in seconds."""
    return [
        (b.number, b.phase.value, b.start_ns // S, None if b.end_ns is None else b.end_ns // S)
        for b in bouts_of(MarkBook(marks).standing, athlete)
    ]


A_SESSION = (
    mark(0, "warm_up_start"),
    mark(300, "bout_start", work="rowing", planned_s=240, low_bpm=150, high_bpm=158),
    mark(540, "recovery_start", planned_s=180, refill_pct=95),
    mark(720, "bout_start", work="sled push"),
    mark(960, "bout_end"),
    mark(1_000, "recovery_start"),
)


def test_a_session_is_numbered_and_each_start_ends_the_last() -> None:
    assert told(*A_SESSION) == [
        (0, "warm-up", 0, 300),
        (1, "work", 300, 540),
        (1, "recovery", 540, 720),
        (2, "work", 720, 960),
        (2, "recovery", 1_000, None),
    ]


def test_what_the_mark_said_is_in_the_bout() -> None:
    bouts = bouts_of(MarkBook(A_SESSION).standing, "a1")

    assert bouts[1] == Bout(
        "bout_start@300/a1", 1, Phase.WORK, 300 * S, 540 * S, "rowing", planned_s=240,
        band_bpm=(150, 158),
    )  # fmt: skip
    assert (bouts[2].planned_s, bouts[2].refill_pct) == (180, 95)


def test_a_bout_entered_late_lands_where_it_happened_and_renumbers() -> None:
    late = mark(100, "bout_start", late_s=900), mark(200, "bout_end", late_s=900)

    assert told(*A_SESSION[1:4], *late) == [
        (1, "work", 100, 200),
        (2, "work", 300, 540),
        (2, "recovery", 540, 720),
        (3, "work", 720, None),
    ]


def test_marks_for_everybody_and_for_others() -> None:
    marks = mark(10, "bout_start", None), mark(20, "bout_end", "a2"), mark(30, "bout_end", "a1")

    assert told(*marks, athlete="a1") == [(1, "work", 10, 30)]
    assert told(*marks, athlete="a2") == [(1, "work", 10, 20)]
    assert told(*marks, athlete="a3") == [(1, "work", 10, None)]


def test_a_double_press_is_one_bout() -> None:
    assert told(mark(10, "bout_start", None), mark(10, "bout_start", "a1")) == [
        (1, "work", 10, None)
    ]


@pytest.mark.parametrize("stray", ["bout_end", "recovery_end", "warm_up_end", "hologram"])
def test_an_end_without_its_start_ends_nothing(stray: str) -> None:
    others = {"bout_end": "recovery_start", "recovery_end": "bout_start"}
    start = mark(10, others.get(stray, "bout_start"))

    assert [row[3] for row in told(mark(5, stray), start, mark(20, stray))] == [None]


def test_a_withdrawn_start_never_was() -> None:
    start, end = mark(10, "bout_start"), mark(20, "bout_end")

    assert told(start, end, withdrawal(start, mark="w", t_ns=99 * S)) == []
    assert told(start, end, withdrawal(end, mark="w", t_ns=99 * S)) == [(1, "work", 10, None)]


def test_the_snapshot_shows_the_one_that_goes_on() -> None:
    bouts = bouts_of(MarkBook(A_SESSION[:3]).standing, "a1")

    assert bout_state(bouts) == BoutState(1, "", True, 540.0, 180, None, 95)
    assert bout_state(bouts[:1]) is None  # a warm-up is neither bout nor recovery
    assert bout_state(()) is None
    assert bout_spans(bouts) == ((300.0, 540.0, "rowing", False), (540.0, None, "", True))


def test_notes_go_to_the_bout_that_went_on_or_the_last_before() -> None:
    book = MarkBook(
        (
            *A_SESSION,
            mark(200, "lactate", lactate_mmol_l=1.1),  # at rest: before any bout
            mark(310, "load", load_w=250),
            mark(560, "rpe", rpe_cr10=7),  # asked for in the recovery
            mark(561, "lactate", lactate_mmol_l=4.2, sampling_site="earlobe"),
            mark(562, "note", text="left sock slipped"),
            mark(730, "work", work="step-ups, loaded"),
            mark(970, "rpe", rpe_cr10="absolute maximum"),
            mark(971, "repetitions", repetitions=12),
            mark(972, "distance", distance_m=400),
            mark(973, "distance", "a2", distance_m=9_000),  # somebody else's
            mark(990, "lactate", lactate_mmol_l=6.0, bout="bout_start@300/a1"),  # named
        )
    )
    bouts = bouts_of(book.standing, "a1")
    notes = notes_of(book, bouts, "a1")

    assert notes["bout_start@300/a1"] == BoutNotes(
        "rowing", (250, "W"), rpe="7", rpe_cr10=7,
        lactates=(LactateSample(561 * S, 4.2, "earlobe"), LactateSample(990 * S, 6.0, "")),
        notes=("left sock slipped",),
    )  # fmt: skip
    assert notes["bout_start@720/a1"] == BoutNotes(
        "step-ups, loaded", None, 12, 400, rpe="absolute maximum"
    )
    assert notes["recovery_start@540/a1"] == BoutNotes("")
    assert [s.mmol_l for s in lactates_of(book.standing, "a1")] == [1.1, 4.2, 6.0]


def test_a_load_mark_without_a_load_keeps_the_one_before() -> None:
    """A note at a load change, as older recordings may have it, says no number."""
    starts = (mark(10, "bout_start"), mark(11, "load", load_w=250))
    for more in ((), (mark(12, "load"),), (mark(12, "load", note="harder"),)):
        book = MarkBook((*starts, *more))
        (bout,) = bouts_of(book.standing, "a1")

        assert notes_of(book, (bout,), "a1")[bout.mark].load == (250, "W")


def test_notes_find_a_bout_whose_start_was_corrected() -> None:
    start = mark(10, "bout_start", work="rowing")
    corrected = correction(start, mark="c", t_ns=500 * S, details=(("work", "row"),), at_ns=12 * S)
    book = MarkBook(
        (
            start,
            corrected,
            mark(100, "bout_start"),
            mark(200, "rpe", rpe_cr10=3, bout="c"),
            mark(201, "repetitions", repetitions=9, bout="bout_start@10/a1"),
        )
    )
    bouts = bouts_of(book.standing, "a1")
    notes = notes_of(book, bouts, "a1")

    assert (bouts[0].mark, bouts[0].start_ns, bouts[0].kind) == ("bout_start@10/a1", 12 * S, "row")
    assert notes[bouts[0].mark] == BoutNotes("row", repetitions=9, rpe="3", rpe_cr10=3)


kinds = st.sampled_from(
    ["bout_start", "bout_end", "recovery_start", "recovery_end", "warm_up_start", "warm_up_end"]
)


@given(st.lists(st.tuples(st.integers(0, 30), kinds), max_size=12))
def test_stretches_never_overlap_and_only_the_last_may_go_on(
    rows: list[tuple[int, str]],
) -> None:
    marks = [Mark(at, f"m{i}", None, kind) for i, (at, kind) in enumerate(rows)]
    bouts = bouts_of(MarkBook(marks).standing, "a1")

    for before, after in pairwise(bouts):
        assert before.end_ns is not None
        assert before.start_ns < before.end_ns <= after.start_ns
    worked = [bout.number for bout in bouts if bout.phase is Phase.WORK]
    assert worked == list(range(1, len(worked) + 1))
