"""A relay may send a burst, and then so much a second."""

from livemon.net.allowance import Allowance

S = 1_000_000_000


def test_a_sound_relay_never_meets_the_limit() -> None:
    """50 live messages and 50 of a backlog in a second, for an hour."""
    allowance = Allowance()

    assert all(allowance.take(n * S // 100) for n in range(100 * 3600))


def test_a_flood_is_cut_down_to_the_rate() -> None:
    allowance = Allowance()

    taken = sum(allowance.take(n * S // 10_000) for n in range(100_000))

    assert taken == 400 + 200 * 10 - 1  # the burst, and ten seconds less the moment before the last


def test_after_a_flood_it_may_send_again() -> None:
    allowance = Allowance()
    for _ in range(1000):
        allowance.take(0)

    assert not allowance.take(S // 200 - 1)
    assert allowance.take(S // 100)
