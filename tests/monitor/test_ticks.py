"""Ticks come at the same moments of session time, however the driver wakes."""

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.monitor.ticks import TICK_NS, TickGrid


@example([TICK_NS, TICK_NS])
@example([TICK_NS - 1, TICK_NS])
@given(st.lists(st.integers(0, 20 * TICK_NS), max_size=30).map(sorted))
def test_wakes_leave_no_trace(wakes: list[int]) -> None:
    grid = TickGrid()
    handed_out = [tick for wake in wakes for tick in grid.until(wake)]

    assert handed_out == list(TickGrid().until(wakes[-1] if wakes else 0))


@example(TICK_NS)
@example(TICK_NS + 1)
@example(0)
@given(st.integers(0, 100 * TICK_NS))
def test_skipping_leaves_the_grid_where_it_was(t_ns: int) -> None:
    """After a sleep of the computer the next tick is the first one not before now."""
    grid = TickGrid()
    grid.skip_to(t_ns)

    assert grid.next_ns % TICK_NS == 0
    assert max(t_ns, TICK_NS) <= grid.next_ns < max(t_ns, 1) + TICK_NS
