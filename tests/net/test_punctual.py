"""What was held up on the way is told from a sender whose clock stood still."""

from livemon.net.punctual import LATE_NS, Punctual

MS = 1_000_000
S = 1_000_000_000


def test_punctual_messages_give_the_offset() -> None:
    punctual = Punctual()

    assert [punctual.update(n * S, n * S + 7 * S + 3 * MS) for n in range(5)] == [
        7 * S + 3 * MS
    ] * 5


def test_exactly_so_late_is_not_too_late() -> None:
    punctual = Punctual()
    punctual.update(0, 0)

    assert punctual.update(S, S + LATE_NS) == 0
    assert punctual.update(2 * S, 2 * S + LATE_NS + 1) is None


def test_a_burst_that_was_held_up_is_late_and_what_follows_is_not() -> None:
    punctual = Punctual()
    punctual.update(0, 0)

    burst = [punctual.update(n * S, 20 * S + n * MS) for n in range(1, 20)]

    assert burst == [None] * 15 + [0] * 4
    assert punctual.update(21 * S, 21 * S) == 0


def test_a_sender_that_slept_is_shown_again_after_some_seconds() -> None:
    """It stays as late as it is: its clock stood still for half a minute."""
    punctual = Punctual()
    punctual.update(0, 0)

    after = [punctual.update(n * S, n * S + 30 * S) for n in range(1, 9)]

    assert after == [None] * 5 + [30 * S] * 3
