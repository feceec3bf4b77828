"""The offset between two machines' clocks, against delays that are known to the test."""

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.net.offset import ClockOffset

MS = 1_000_000
S = 1_000_000_000


@example(0, [(0, 0)])
@given(
    st.integers(-(10**15), 10**15),
    st.lists(st.tuples(st.integers(0, S), st.integers(0, 200 * MS)), min_size=1, max_size=50),
)
def test_it_is_never_below_the_truth_and_off_by_the_fastest_message_and_the_tolerance(
    true_ns: int, messages: list[tuple[int, int]]
) -> None:
    offset, sent_ns, arrived_ns, delays = ClockOffset(), 0, -(10**18), []
    for gap_ns, delay_ns in messages:
        sent_ns += gap_ns
        arrived_ns = max(arrived_ns, sent_ns + true_ns + delay_ns)  # one connection keeps order
        delays.append(arrived_ns - sent_ns - true_ns)
        estimate_ns = offset.update(sent_ns, arrived_ns)

        assert 0 <= estimate_ns - true_ns <= min(delays) + 20 * MS


def test_it_stands_still_while_delays_vary() -> None:
    offset = ClockOffset()

    estimates = {offset.update(n * S, n * S + 5 * S + (n % 7) * 3 * MS) for n in range(300)}

    assert estimates == {5 * S}


def test_it_follows_a_clock_that_drifts() -> None:
    """50 parts in a million for an hour: 180 ms in all, never off by more than the tolerance."""
    offset = ClockOffset()
    for n in range(3600):
        true_ns = n * 50_000
        estimate_ns = offset.update(n * S, n * S + true_ns + MS)

        assert abs(estimate_ns - true_ns - MS) <= 23 * MS


def test_it_follows_at_once_when_the_sender_stood_still_less_than_thought() -> None:
    """A smaller difference is always nearer to the truth."""
    offset = ClockOffset()
    offset.update(0, 500 * MS)

    assert offset.update(S, S + 3 * MS) == 3 * MS


def test_an_outage_behind_which_the_clocks_differ_is_forgotten_within_a_minute() -> None:
    offset = ClockOffset()
    offset.update(0, 0)
    for n in range(1, 62):  # the sender's clock stood still for 9 s while it slept
        estimate_ns = offset.update(n * S, n * S + 9 * S)

    assert estimate_ns == 9 * S
