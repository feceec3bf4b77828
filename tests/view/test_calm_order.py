"""Lanes move when somebody needs a word, and hold still otherwise."""

import itertools

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.view.calm_order import RISE_S, SINK_S, CalmOrder
from livemon.view.lanes_model import Urgency

CALM, FAULT, CAUTION, DRAIN = Urgency.CALM, Urgency.FAULT, Urgency.CAUTION, Urgency.DRAIN


def test_a_quiet_class_keeps_the_order_of_the_roster() -> None:
    assert CalmOrder().arrange({"c": CALM, "a": CALM, "b": CALM}, 0) == ("c", "a", "b")


def test_a_lane_rises_only_after_its_urgency_has_held() -> None:
    order = CalmOrder()
    order.arrange({"a": CALM, "b": CALM}, 0)

    assert order.arrange({"a": CALM, "b": DRAIN}, 1) == ("a", "b")
    assert order.arrange({"a": CALM, "b": DRAIN}, 1 + RISE_S - 0.01) == ("a", "b")
    assert order.arrange({"a": CALM, "b": DRAIN}, 1 + RISE_S) == ("b", "a")


def test_a_lane_sinks_later_than_it_rises() -> None:
    order = CalmOrder()
    order.arrange({"a": CALM, "b": DRAIN}, 0)

    assert order.arrange({"a": CALM, "b": CALM}, 1) == ("b", "a")
    assert order.arrange({"a": CALM, "b": CALM}, 1 + SINK_S - 0.01) == ("b", "a")
    assert order.arrange({"a": CALM, "b": CALM}, 1 + SINK_S) == ("a", "b")


def test_a_flicker_starts_the_wait_anew() -> None:
    order = CalmOrder()
    order.arrange({"a": CALM, "b": CALM}, 0)
    order.arrange({"a": CALM, "b": DRAIN}, 1)
    order.arrange({"a": CALM, "b": CALM}, 3)

    assert order.arrange({"a": CALM, "b": DRAIN}, 3.9) == ("a", "b")
    assert order.arrange({"a": CALM, "b": DRAIN}, 3.9 + RISE_S) == ("b", "a")


def test_drain_before_caution_before_fault() -> None:
    urgency = {"a": CALM, "b": FAULT, "c": CAUTION, "d": DRAIN}

    assert CalmOrder().arrange(urgency, 0) == ("d", "c", "b", "a")


def test_a_pinned_lane_stays_on_top_of_a_drain() -> None:
    urgency = {"a": CALM, "b": CALM, "c": DRAIN}

    assert CalmOrder().arrange(urgency, 0, frozenset("b")) == ("b", "c", "a")


def test_a_lane_that_left_is_forgotten() -> None:
    order = CalmOrder()
    order.arrange({"a": CALM, "b": DRAIN}, 0)
    order.arrange({"a": CALM}, 1)

    assert order.arrange({"a": CALM, "b": CALM}, 2) == ("a", "b")


@example([(0.0, CALM), (1.0, DRAIN), (RISE_S, CALM), (RISE_S, DRAIN)])
@given(st.lists(st.tuples(st.floats(0, 5), st.sampled_from(Urgency)), max_size=60))
def test_no_lane_moves_up_twice_within_the_hold(steps: list[tuple[float, Urgency]]) -> None:
    """However the urgency flickers, two rises lie at least one hold apart."""
    order, t_s, places, rises = CalmOrder(), 0.0, [], []
    for gap_s, urgency in steps:
        t_s += gap_s
        places.append(order.arrange({"a": FAULT, "b": urgency}, t_s).index("b"))
        if len(places) > 1 and places[-1] < places[-2]:
            rises.append(t_s)

    assert all(later - earlier >= RISE_S for earlier, later in itertools.pairwise(rises))
