"""Two bouts beside each other: a verdict only where one is allowed."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from livemon.analyse.bout import Bout
from livemon.analyse.compare import DROP, HALF_TIME, LATE_LEVEL, SLOPE, Side, compare, verdict
from livemon.analyse.heart_rate import judge_heart_rate
from livemon.analyse.measure import Measure, around, difference, exactly, standard_error, unknown
from livemon.analyse.muscle import judge_muscle
from livemon.analyse.series import Series


def measure(value: float, half: float, unit: str = "%") -> Measure:
    return Measure(value, value - half, value + half, unit)


def test_a_difference_of_symmetric_intervals_adds_in_squares() -> None:
    change = difference(measure(5, 3), measure(1, 4))

    assert (change.value, change.low, change.high) == (4, -1, 9)


def test_a_difference_of_skewed_intervals_stays_skewed() -> None:
    """Zou & Donner 2008: the lower limit takes a's lower and b's upper side."""
    change = difference(Measure(5, 4, 9, "s"), Measure(1, 0, 1.5, "s"))

    assert change.low == pytest.approx(4 - np.hypot(1, 0.5))
    assert change.high == pytest.approx(4 + np.hypot(4, 1))


def test_units_must_agree() -> None:
    assert "units differ" in difference(measure(5, 1, "%"), measure(5, 1, "s")).reason


def test_a_difference_from_a_count_has_no_interval() -> None:
    assert difference(measure(5, 1, "s"), exactly(2, "s")) == exactly(3, "s")


def test_a_figure_that_the_samples_do_not_determine_is_unknown() -> None:
    for value, error in ((float("nan"), 1.0), (1.0, float("inf"))):
        assert around(value, error, 5, "%").reason == "the samples do not determine it"
    assert around(1.0, 0.0, 5, "%") == Measure(1.0, 1.0, 1.0, "%")


def test_standard_error_of_a_normal_interval() -> None:
    half = stats.norm.ppf(0.95) * 2.5

    assert standard_error(measure(7, half)) == pytest.approx(2.5)
    assert standard_error(unknown("%", "none")) is None


def bout_side(number: int, level: float, bpm: float, recording: str = "a") -> Side:
    """Five minutes of work at a level, with a little noise."""
    t_s = np.arange(0.0, 600.0)
    rng = np.random.default_rng(number)
    smo2 = np.where((t_s >= 120) & (t_s < 420), level, 70.0) + rng.normal(size=600) / 2
    bout = Bout(number, 120, 420, recording=recording)
    muscle = judge_muscle(
        "left thigh",
        Series.of(t_s, smo2),
        None,
        bout,
        (bout,),
        resting=None,
        level_pct=None,
        own_low_pct=None,
    )
    heart = judge_heart_rate(Series.of(t_s, np.full(600, bpm)), bout, None)
    return Side(number, recording, heart, (muscle,))


def verdicts(a: Side, b: Side) -> dict[str, str]:
    return {row.quantity: row.verdict for row in compare(a, b).rows}


def test_a_deeper_bout_at_like_heart_rate() -> None:
    compared = compare(bout_side(1, 60, 150), bout_side(2, 50, 153))

    assert compared.alike is True
    assert compared.heart_rate.value == pytest.approx(3)
    rows = {row.quantity: row for row in compared.rows}
    assert rows["drop"].difference.value == pytest.approx(10, abs=1)
    assert rows["drop"].verdict == "deeper drop"
    assert rows["late level"].verdict == "lower level"
    assert rows["slope"].verdict == "no clear difference"


@pytest.mark.parametrize(("bpm", "alike"), [(155.0, True), (155.1, False)])
def test_like_heart_rate_is_within_five_beats(bpm: float, alike: bool) -> None:
    compared = compare(bout_side(1, 60, 150), bout_side(2, 50, bpm))

    assert compared.alike is alike
    assert all(("differ by more than 5" in r.verdict) is not alike for r in compared.rows)


def test_between_recordings_ten_points_are_not_a_change() -> None:
    """Minimum detectable change 14 to 18 points: doi 10.1007/s00421-024-05514-2."""
    found = verdicts(bout_side(1, 60, 150, "May"), bout_side(2, 50, 150, "June"))

    assert found["drop"].startswith("no clear difference: less than the 15 %")
    assert found["late level"].startswith("no clear difference: less than the 15 %")


def test_between_recordings_twenty_points_are() -> None:
    found = verdicts(bout_side(1, 60, 150, "May"), bout_side(2, 40, 150, "June"))

    assert found["drop"] == "deeper drop"


@pytest.mark.parametrize(
    ("quantity", "change", "between", "words"),
    [
        (DROP, measure(4, 3.9), False, "deeper drop"),
        (DROP, measure(4, 4), False, "no clear difference"),
        (DROP, measure(-4, 3.9), False, "smaller drop"),
        (DROP, measure(15, 3), True, "deeper drop"),
        (DROP, measure(14.9, 3), True, "no clear difference: less"),
        (LATE_LEVEL, measure(4, 1), False, "higher level"),
        (HALF_TIME, measure(20, 5, "s"), True, "slower recovery"),
        (HALF_TIME, measure(-19, 5, "s"), True, "no clear difference: less"),
        (SLOPE, measure(-2, 1, "%/min"), False, "falls more or rises less"),
        (SLOPE, measure(-2, 1, "%/min"), True, "no verdict"),
        (SLOPE, unknown("%/min", "too short"), False, "too short"),
    ],
)
def test_what_may_be_said(quantity, change: Measure, between: bool, words: str) -> None:
    assert verdict(quantity, change, alike=True, between=between).startswith(words)


def test_without_heart_rate_there_is_no_verdict() -> None:
    a, b = bout_side(1, 60, 150), bout_side(2, 50, 150)
    compared = compare(a, Side(b.number, b.recording, None, b.muscles))

    assert compared.alike is None
    assert all("heart rate is not known" in row.verdict for row in compared.rows)


def test_only_sites_that_both_have() -> None:
    a = bout_side(1, 60, 150)

    assert compare(a, Side(2, "a", a.heart_rate, ())).rows == ()


def test_a_site_that_only_one_bout_has_is_not_compared() -> None:
    a, b = bout_side(1, 60, 150), bout_side(2, 50, 150)
    elsewhere = replace(b.muscles[0], site="right calf")
    both = Side(2, "a", b.heart_rate, (elsewhere, *b.muscles))

    assert compare(a, both).rows == compare(a, b).rows
    assert compare(a, Side(2, "a", b.heart_rate, (elsewhere,))).rows == ()
