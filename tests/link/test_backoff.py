"""How long to wait before the next attempt at a link, and how long each may take."""

from itertools import islice
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from livemon.link.backoff import CEILING_S, backoff, opening_times


@given(st.integers(), st.floats(0.01, 5), st.floats(0.01, 60))
def test_waits_grow_to_a_ceiling_and_are_shortened_by_half_at_most(
    seed: int, first_s: float, ceiling_s: float
) -> None:
    waits = list(islice(backoff(Random(seed), first_s=first_s, ceiling_s=ceiling_s), 30))

    full = [min(first_s * 2**n, ceiling_s) for n in range(30)]
    assert all(f / 2 <= wait <= f for wait, f in zip(waits, full, strict=True))


def test_while_people_work_out_no_wait_is_longer_than_two_seconds() -> None:
    assert max(islice(backoff(Random(1)), 1000)) <= CEILING_S == 2.0


def test_sensors_that_dropped_together_do_not_come_back_together() -> None:
    chance = Random(3)
    assert len({next(backoff(chance)) for _ in range(24)}) == 24


def test_attempts_are_given_more_and_more_time() -> None:
    times = list(islice(opening_times(), 8))

    assert times[0] == 6.0
    assert times == sorted(times)
    assert times[-1] == 20.0
