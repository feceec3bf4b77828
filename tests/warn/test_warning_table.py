"""The table of the drain warning is total, and time alone tells or ends a warning."""

from itertools import product

from livemon.warn.machine import NEXT, Seen, State


def test_every_pair_has_an_answer() -> None:
    assert set(NEXT) == set(product(State, Seen))
