"""The newest lines on their way out."""

from livemon.net.batch import MAX_LINES
from livemon.net.fresh_lines import FreshLines

S = 1_000_000_000


def test_lines_go_out_in_order_with_the_number_of_the_first() -> None:
    fresh = FreshLines(next_number=5)
    fresh.put(b"five", 0)
    fresh.put(b"six", 0)

    assert fresh.take(0) == (5, (b"five", b"six"))
    assert fresh.take(0) is None
    fresh.put(b"seven", 0)
    assert fresh.take(0) == (7, (b"seven",))


def test_lines_that_waited_too_long_are_left_to_the_recording() -> None:
    fresh = FreshLines()
    fresh.put(b"old", 0)
    fresh.put(b"at the limit", 1)
    fresh.put(b"new", 2 * S)

    assert fresh.take(2 * S + 1) == (2, (b"at the limit", b"new"))
    assert fresh.dropped == 1


def test_many_lines_go_out_in_pieces() -> None:
    fresh = FreshLines()
    for number in range(1, MAX_LINES + 2):
        fresh.put(str(number).encode(), 0)

    first, some = fresh.take(0)
    then, rest = fresh.take(0)

    assert (first, len(some)) == (1, MAX_LINES)
    assert (then, rest) == (MAX_LINES + 1, (str(MAX_LINES + 1).encode(),))


def test_an_outage_of_any_length_takes_bounded_memory() -> None:
    fresh = FreshLines()
    for number in range(1, 10_001):
        fresh.put(str(number).encode(), 0)

    first, lines = fresh.take(0)

    assert (first, lines[0]) == (8_001, b"8001")
    assert fresh.dropped == 8_000
