"""How long a relay has to wait that sends too much."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.net.share_limits import Allowance


def test_two_seconds_worth_go_at_once_and_then_the_rate() -> None:
    allowance = Allowance(10, 0.0)

    assert [allowance.spend(1, 0.0) for _ in range(21)] == [0.0] * 20 + [pytest.approx(0.1)]
    assert allowance.spend(1, 0.1) == pytest.approx(0.1)
    assert allowance.spend(1, 5.0) == 0.0


@given(st.lists(st.tuples(st.floats(0.1, 50), st.floats(0, 3)), max_size=60))
def test_who_waits_as_told_sends_no_more_than_the_rate(steps: list[tuple[float, float]]) -> None:
    allowance, now_s, sent = Allowance(10, 0.0), 0.0, 0.0
    for amount, pause_s in steps:
        sent += amount
        now_s += allowance.spend(amount, now_s)
        assert sent <= 20 + 10 * now_s + 1e-6
        now_s += pause_s
