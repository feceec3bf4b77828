"""The event: when a fall begins and ends, and every border case."""

import numpy as np
import pytest
from truths import judged, made, pieces

from livemon.score.event import Ending, Moment, unobservable


def moment(verdict: np.ndarray, t_s: float) -> Moment:
    return Moment(int(verdict[round(t_s * 10)]))


def test_a_fall_is_where_the_muscle_declines_and_heart_rate_holds() -> None:
    seen = judged(made(pieces((100, 0.0), (90, -4.0), (60, 0.0))))

    (fall,) = seen.falls
    assert (fall.start_s, fall.end_s) == pytest.approx((100.0, 190.0))
    assert fall.rate_pct_per_min == pytest.approx(4.0)
    assert fall.ending is Ending.FLATTENS
    assert not fall.settles
    assert moment(seen.moments, 50.0) is Moment.FALSE
    assert moment(seen.moments, 150.0) is Moment.FALL


@pytest.mark.parametrize(
    ("rate", "falls", "counts_as"),
    [
        pytest.param(-1.51, 1, Moment.FALL, id="just steep enough"),
        pytest.param(-1.5, 0, Moment.SLOW, id="1.5 is not steeper than 1.5"),
        pytest.param(-0.51, 0, Moment.SLOW, id="just in the border"),
        pytest.param(-0.5, 0, Moment.FALSE, id="too slow to be anything"),
        pytest.param(2.0, 0, Moment.FALSE, id="rising"),
    ],
)
def test_slopes(rate: float, falls: int, counts_as: Moment) -> None:
    seen = judged(made(pieces((50, 0.0), (100, rate), (50, 0.0))))

    assert len(seen.falls) == falls
    assert moment(seen.moments, 100.0) is counts_as


@pytest.mark.parametrize(("seconds", "falls"), [(19.9, 0), (20.0, 1), (20.1, 1)])
def test_a_fall_lasts_at_least_20_s(seconds: float, falls: int) -> None:
    assert len(judged(made(pieces((50, 0.0), (seconds, -5.0), (50, 0.0)))).falls) == falls


def test_a_short_decline_is_no_excuse() -> None:
    seen = judged(made(pieces((50, 0.0), (15, -5.0), (50, 0.0))))

    assert moment(seen.moments, 60.0) is Moment.FALSE


@pytest.mark.parametrize(
    ("bpm_per_min", "falls", "counts_as"),
    [
        pytest.param(2.9, 1, Moment.FALL, id="steady"),
        pytest.param(-2.9, 1, Moment.FALL, id="steady, sinking"),
        pytest.param(3.0, 0, Moment.TAIL, id="3 is not less than 3"),
        pytest.param(4.4, 0, Moment.TAIL, id="nearly steady"),
        pytest.param(4.5, 0, Moment.FALSE, id="moving"),
        pytest.param(-20.0, 0, Moment.FALSE, id="coming down"),
    ],
)
def test_heart_rate(bpm_per_min: float, falls: int, counts_as: Moment) -> None:
    drift = pieces((50, 0.0), (100, -5.0), (50, 0.0))
    seen = judged(made(drift, bpm_per_min=np.full(len(drift), bpm_per_min)))

    assert len(seen.falls) == falls
    assert moment(seen.moments, 100.0) is counts_as


def test_heart_rate_settles_while_the_muscle_falls() -> None:
    drift = pieces((50, 0.0), (150, -5.0))
    seen = judged(made(drift, bpm_per_min=pieces((120, 20.0), (80, 1.0))))

    (fall,) = seen.falls
    assert fall.start_s == pytest.approx(120.0)
    assert fall.muscle_from_s == pytest.approx(50.0)
    assert fall.settles
    assert fall.ending is Ending.TRACE_ENDS
    assert moment(seen.moments, 100.0) is Moment.FALSE


def test_heart_rate_that_moves_ends_a_fall() -> None:
    drift = pieces((50, 0.0), (150, -5.0))
    seen = judged(made(drift, bpm_per_min=pieces((120, 0.0), (80, 20.0))))

    assert [f.ending for f in seen.falls] == [Ending.HEART_RATE]


def test_at_rest_nothing_is_a_fall() -> None:
    drift = pieces((50, 0.0), (100, -5.0))
    seen = judged(made(drift, working=np.zeros(len(drift), dtype=bool)))

    assert seen.falls == ()
    assert set(seen.moments.tolist()) == {Moment.FALSE}


def test_work_that_stops_ends_a_fall() -> None:
    drift = pieces((50, 0.0), (100, -5.0))
    seen = judged(made(drift, working=pieces((120, 1), (30, 0)).astype(bool)))

    (fall,) = seen.falls
    assert fall.end_s == pytest.approx(120.0)
    assert fall.ending is Ending.WORK_STOPS


def test_15_s_after_a_fall_count_neither_way() -> None:
    seen = judged(made(pieces((50, 0.0), (60, -5.0), (60, 0.0))))

    assert moment(seen.moments, 110.0) is Moment.AFTER
    assert moment(seen.moments, 124.9) is Moment.AFTER
    assert moment(seen.moments, 125.1) is Moment.FALSE


def test_an_onset_is_no_fall_and_its_tail_counts_neither_way() -> None:
    drift = pieces((200, 0.0))
    onset = pieces((50, 0.0), (30, -30.0), (30, -2.0), (90, -0.4))
    left = pieces((80, 1.0), (30, 0.04), (90, 0.0))
    seen = judged(made(drift, onset, left))

    assert seen.falls == ()
    assert moment(seen.moments, 60.0) is Moment.FALSE
    assert moment(seen.moments, 90.0) is Moment.TAIL
    assert moment(seen.moments, 150.0) is Moment.FALSE


def test_a_fall_under_an_onset_begins_with_the_drift() -> None:
    drift = pieces((50, 0.0), (100, -5.0))
    seen = judged(made(drift, onset=pieces((50, 0.0), (20, -30.0), (80, 0.0))))

    assert [f.start_s for f in seen.falls] == pytest.approx([50.0])


def test_a_drift_that_an_onset_outweighs_is_no_fall() -> None:
    """The muscle has to decline, not only to rise less."""
    drift = pieces((100, -5.0))

    assert judged(made(drift, onset=pieces((100, 6.0)))).falls == ()


def test_heart_rate_that_cannot_be_observed_counts_neither_way() -> None:
    true = made(pieces((50, 0.0), (150, -5.0), (50, 0.0)))
    observable = ~unobservable(true.t_s, ((0.0, 100.0),), settle_s=10.0)
    seen = judged(true, observable)

    (fall,) = seen.falls
    assert fall.start_s == pytest.approx(110.0)
    assert fall.regained
    assert not fall.settles
    assert moment(seen.moments, 80.0) is Moment.UNSEEN
    assert moment(seen.moments, 20.0) is Moment.FALSE  # the muscle does not fall


@pytest.mark.parametrize(("pause_s", "falls"), [(19.0, 1), (20.0, 2)])
def test_a_staircase_is_one_fall_where_its_treads_are_short(pause_s: float, falls: int) -> None:
    seen = judged(made(pieces((50, 0.0), (30, -8.0), (pause_s, 0.0), (30, -8.0), (50, 0.0))))

    assert len(seen.falls) == falls


def test_a_pause_that_rises_parts_two_falls() -> None:
    seen = judged(made(pieces((30, -8.0), (10, 3.0), (30, -8.0), (50, 0.0))))

    assert len(seen.falls) == 2


@pytest.mark.parametrize(
    ("drift", "onset", "left", "counts_as"),
    [
        pytest.param(-0.4, -0.2, 0.04, Moment.FALSE, id="the onset has all but ended"),
        pytest.param(-1.0, 3.0, 0.5, Moment.FALSE, id="a drift that an onset outweighs"),
        pytest.param(-1.0, 0.0, 0.0, Moment.SLOW, id="a drift"),
    ],
)
def test_what_is_a_border_case(drift: float, onset: float, left: float, counts_as: Moment) -> None:
    span = 60.0
    true = made(pieces((span, drift)), pieces((span, onset)), pieces((span, left)))

    assert moment(judged(true).moments, 30.0) is counts_as


@pytest.mark.parametrize(("drift", "counts_as"), [(-1.0, Moment.SLOW), (-2.0, Moment.FALSE)])
def test_at_rest_only_a_slow_drift_is_a_border_case(drift: float, counts_as: Moment) -> None:
    still = np.zeros(600, dtype=bool)

    assert moment(judged(made(pieces((60, drift)), working=still)).moments, 30.0) is counts_as
