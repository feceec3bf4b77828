"""Corrections give the same state whatever order they arrive in."""

from itertools import permutations
from random import Random

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.events import Mark
from livemon.monitor.corrections import MarkBook

ids = st.sampled_from(["m1", "m2", "m3", "m4", "m5", "m6"])
marks = st.builds(
    Mark,
    t_ns=st.integers(0, 4),
    mark=ids,
    athlete=st.sampled_from([None, "a1"]),
    kind=st.sampled_from(["bout_start", "rpe", "withdrawn"]),
    details=st.sampled_from([(), (("rpe_cr10", 7.0),)]),
    at_ns=st.none() | st.integers(0, 4),
    replaces=st.none() | ids,
)


def rpe(t_ns: int, mark: str, value: float, replaces: str | None = None) -> Mark:
    return Mark(
        t_ns, mark, "a1", "rpe", (("rpe_cr10", value),), 100 if replaces else None, replaces
    )


def gone(t_ns: int, mark: str, replaces: str) -> Mark:
    return Mark(t_ns, mark, "a1", "withdrawn", (), None, replaces)


def holding(*marks: Mark) -> list[str]:
    return [one.mark.mark for one in MarkBook(marks).standing]


@example([Mark(1, "m1", None, "rpe", (), None, "m2"), Mark(1, "m2", None, "rpe", (), None, "m1")])
@example([Mark(1, "m1", None, "rpe", (), None, "m1")])
@example([Mark(0, "m3", None, "rpe"), Mark(1, "m3", None, "withdrawn")])
@given(st.lists(marks, max_size=5))
def test_any_order_and_any_repetition_gives_the_same_state(marks: list[Mark]) -> None:
    """Rings, two marks of one id, originals that never come: all of them, in all orders."""
    states = {MarkBook(order).standing for order in permutations(marks)}
    assert len(states) == 1
    assert MarkBook(marks + marks[::-1]).standing in states


@given(st.lists(marks, max_size=8), st.randoms(use_true_random=False))
def test_asking_in_between_changes_nothing(marks: list[Mark], random: Random) -> None:
    book = MarkBook()
    for mark in marks:
        book.add(mark)
        if random.random() < 0.5:
            assert isinstance(book.standing, tuple)

    assert book.standing == MarkBook(marks).standing


def test_the_latest_word_holds() -> None:
    first, second, third = rpe(100, "m1", 5), rpe(200, "m2", 6, "m1"), rpe(300, "m3", 7, "m1")

    assert holding(first) == ["m1"]
    assert holding(first, second) == ["m2"]
    assert holding(first, second, third) == ["m3"]
    # Somebody corrects the older correction: that is the latest word about it.
    assert holding(first, second, third, rpe(400, "m4", 8, "m2")) == ["m4"]


def test_a_correction_outdoes_the_original_of_the_same_instant() -> None:
    assert holding(rpe(100, "m9", 5), rpe(100, "m1", 6, "m9")) == ["m1"]


def test_a_withdrawal_takes_back_and_can_be_taken_back() -> None:
    first, withdrawn = rpe(100, "m1", 5), gone(200, "m2", "m1")

    assert holding(first, withdrawn) == []
    assert holding(withdrawn) == []
    assert holding(first, withdrawn, rpe(300, "m3", 5, "m1")) == ["m3"]


def test_a_correction_without_its_original_stands_for_itself() -> None:
    late = rpe(200, "m2", 6, "m1")
    (alone,) = MarkBook([late]).standing

    assert (alone.first, alone.t_ns, alone.mark) == ("m1", 100, late)


def test_marks_that_replace_each_other_in_a_ring_are_one() -> None:
    ring = rpe(100, "m1", 5, "m2"), rpe(200, "m2", 6, "m1"), rpe(300, "m3", 7, "m2")

    assert holding(*ring) == ["m3"]


def test_others_refer_to_the_first_of_a_tree_by_any_of_its_ids() -> None:
    book = MarkBook([rpe(100, "m1", 5), rpe(200, "m2", 6, "m1"), rpe(300, "m3", 7, "m2")])

    assert [book.first_of(mark) for mark in ("m1", "m2", "m3", "m4")] == ["m1", "m1", "m1", "m4"]
