"""One order out of several relays' events."""

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.net.merge import HOLD_NS, Merge

MS = 1_000_000
LATER = 10**15


def drained(merge: Merge[str]) -> list[tuple[int, str]]:
    return merge.release(LATER)


def test_events_of_two_relays_come_in_the_order_of_their_times() -> None:
    merge = Merge[str]()
    merge.put("a", 30, "a30")
    merge.put("b", 10, "b10")
    merge.put("b", 40, "b40")

    assert merge.release(40) == [(10, "b10"), (30, "a30")]  # a has come to 30 only
    assert drained(merge) == [(40, "b40")]


def test_nobody_waits_for_a_silent_relay_longer_than_the_hold() -> None:
    merge = Merge[str]()
    merge.put("silent", 0, "s")
    merge.put("busy", 100 * MS, "x")

    assert merge.release(100 * MS + HOLD_NS - 1) == [(0, "s")]
    assert merge.release(100 * MS + HOLD_NS) == [(100 * MS, "x")]


def test_nobody_waits_for_a_relay_that_left() -> None:
    merge = Merge[str]()
    merge.put("gone", 0, "g")
    merge.put("here", 5, "h")
    merge.forget("gone")

    assert merge.release(5) == [(0, "g"), (5, "h")]


def test_what_comes_too_late_is_given_the_time_of_the_one_before() -> None:
    merge = Merge[str]()
    merge.put("a", 100, "a")
    drained(merge)
    merge.put("b", 50, "late")

    assert drained(merge) == [(100, "late")]


@example([("a", 5, 0), ("b", 5, 0), ("a", 5, 0)])
@given(st.lists(st.tuples(st.sampled_from("abc"), st.integers(0, 300), st.integers(0, 40))))
def test_nothing_is_lost_doubled_or_goes_back(puts: list[tuple[str, int, int]]) -> None:
    """Whatever the times; and one relay's own events keep their order if their times do."""
    merge = Merge[int]()
    out, now_ns = [], 0
    for number, (relay, t_ms, wait_ms) in enumerate(puts):
        merge.put(relay, t_ms * MS, number)
        now_ns += wait_ms * MS
        out += merge.release(now_ns)
    out += merge.release(LATER)

    assert sorted(number for _, number in out) == list(range(len(puts)))
    times = [t_ns for t_ns, _ in out]
    assert times == sorted(times)


@given(st.lists(st.tuples(st.sampled_from("ab"), st.integers(0, 20)), min_size=1))
def test_events_that_are_early_enough_keep_their_times_exactly(puts: list[tuple[str, int]]) -> None:
    """A relay alone, or all within the hold: the core is told what the relay's own was."""
    merge = Merge[int]()
    for number, (relay, t_ms) in enumerate(puts):
        merge.put(relay, t_ms * MS, number)

    released = drained(merge)

    assert [(t_ns, n) for t_ns, n in released] == sorted(
        ((t_ms * MS, n) for n, (_, t_ms) in enumerate(puts)), key=lambda one: one
    )
