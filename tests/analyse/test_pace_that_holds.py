"""The zero crossing of slope on intensity."""

import numpy as np
import pytest
from invented_bouts import HOLDS_W, correlated_noise

from livemon.analyse.bout import Bout, Intensity
from livemon.analyse.late import late_figures
from livemon.analyse.measure import Measure
from livemon.analyse.pace import PacePoint, pace_that_holds
from livemon.analyse.series import Series
from livemon.analyse.windows import late_part


def point(watt: float, slope: float, half: float = 0.3, unit: str = "W") -> PacePoint:
    return PacePoint(1, Intensity(watt, unit), Measure(slope, slope - half, slope + half, "%/min"))


def test_three_bouts_on_a_line_cross_at_250() -> None:
    """Slope = 0.04 (250 - P): 230 W +0.8, 270 W -0.8, 300 W -2.0 %/min."""
    pace = pace_that_holds([point(230, 0.8), point(270, -0.8), point(300, -2.0)])

    assert pace.intensity.value == pytest.approx(250, rel=1e-12)
    assert pace.dependence.value == pytest.approx(-0.04, rel=1e-12)
    assert pace.intensity.low is not None
    assert pace.intensity.high is not None
    assert pace.intensity.low < 250 < pace.intensity.high


def test_the_interval_is_fiellers() -> None:
    """At each limit the line lies just 1.645 of its own standard errors from zero."""
    watts, slopes = np.array([230.0, 270.0, 300.0]), np.array([0.8, -0.8, -2.0])
    pace = pace_that_holds([point(w, s) for w, s in zip(watts, slopes, strict=True)])
    error = 0.3 / 1.6448536
    design = np.column_stack([np.ones(3), watts])
    covariance = np.linalg.inv(design.T @ design) * error**2

    for limit in (pace.intensity.low, pace.intensity.high):
        assert limit is not None
        at = np.array([1, limit])
        assert abs(0.04 * (250 - limit)) == pytest.approx(
            1.6448536 * np.sqrt(at @ covariance @ at), rel=1e-5
        )


def test_the_interval_holds_the_truth_nine_times_in_ten() -> None:
    rng = np.random.default_rng(5)
    t_s = np.arange(300.0)
    bout = Bout(1, 0, 300)
    held = wrong = 0
    for _ in range(200):
        points = []
        for watt in (210.0, 235.0, 260.0, 290.0):
            noise = correlated_noise(rng, 300, 5, 1.0) + 0.5 * rng.normal(size=300)
            smo2 = Series.of(t_s, 50 + 0.04 * (HOLDS_W - watt) * t_s / 60 + noise)
            slope = late_figures(smo2, late_part(bout), "%").slope
            points.append(PacePoint(1, Intensity(watt, "W"), slope))
        pace = pace_that_holds(points)
        wrong += pace.dependence.clearly_above_zero
        at = pace.intensity
        held += at.low is not None and at.high is not None and at.low <= HOLDS_W <= at.high

    assert 0.86 * 200 <= held <= 0.94 * 200
    assert wrong == 0


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([], "three different intensities"),
        ([point(230, 1), point(270, -1)], "three different intensities"),
        ([point(230, 1), point(230, 0.8), point(270, -1)], "three different intensities"),
        ([point(230, 1), point(4, 0, unit="m/s"), point(270, -1)], "different units"),
        ([point(230, -1), point(260, 0.5), point(290, 2)], "doesn't clearly worsen"),
        ([point(230, 0.1, 3), point(260, 0, 3), point(290, -0.1, 3)], "doesn't clearly worsen"),
        ([point(200, 3), point(220, 2), point(240, 1)], "above the hardest bout"),
        ([point(260, -1), point(280, -2), point(300, -3)], "below the easiest bout"),
    ],
)
def test_refuses_in_words(points: list[PacePoint], words: str) -> None:
    pace = pace_that_holds(points)

    assert pace.intensity.value is None
    assert words in pace.intensity.reason


def test_a_bout_without_a_slope_is_left_out() -> None:
    missing = PacePoint(4, Intensity(310, "W"), Measure(None, None, None, "%/min", "too short"))
    pace = pace_that_holds([point(230, 0.8), point(270, -0.8), point(300, -2.0), missing])

    assert len(pace.points) == 3
    assert pace.intensity.value == pytest.approx(250)


def test_bouts_without_noise_still_have_an_answer() -> None:
    pace = pace_that_holds([point(230, 0.8, 0), point(270, -0.8, 0), point(300, -2.0, 0)])

    assert pace.intensity.value == pytest.approx(250)


def test_slopes_that_scatter_more_than_their_errors_widen_the_interval() -> None:
    tidy = pace_that_holds([point(w, 0.04 * (250 - w)) for w in (210, 230, 270, 290)])
    wild = pace_that_holds([point(210, 1.0), point(230, 1.6), point(270, -1.6), point(290, -1.0)])

    assert wild.intensity.high is not None
    assert tidy.intensity.high is not None
    assert wild.intensity.high - 250 > 1.5 * (tidy.intensity.high - 250)
