"""A bout's intensity: measured where a sensor measured it, else what was entered."""

from dataclasses import replace

import numpy as np
import pytest

from livemon.analyse.bout import Bout, Intensity, Origin
from livemon.analyse.effort import with_effort
from livemon.analyse.intensity_words import intensity_in_full
from livemon.analyse.tracks import EffortTrack
from livemon.decode.samples import IntensitySample, IntensitySource
from livemon.series.effort import Effort

BOUT = Bout(1, 0.0, 240.0, "rowing")
NBSP = "\N{NO-BREAK SPACE}"


def track(*stretches: tuple[int, int, float | None, float | None]) -> EffortTrack:
    """Make a track of (from_s, to_s, power, speed), one sample a second."""
    kept = EffortTrack()
    for begin_s, end_s, watt, m_per_s in stretches:
        for t_s in range(begin_s, end_s):
            kept.take(
                IntensitySample(
                    float(t_s), "one", IntensitySource.ROWER, power_w=watt, speed_m_per_s=m_per_s
                )
            )
    return kept


def given(*bouts: Bout, effort: EffortTrack) -> list[Intensity | None]:
    return [bout.intensity for bout in with_effort(bouts, effort)]


@pytest.mark.parametrize(
    "entered",
    [None, Intensity(190, "W"), Intensity(12, "km/h"), Intensity(4, "m/s", Origin.DISTANCE)],
    ids=str,
)
def test_what_was_measured_takes_the_place_of_what_was_entered(entered: Intensity | None) -> None:
    bout = replace(BOUT, intensity=entered)

    assert given(bout, effort=track((0, 240, 212.0, 3.5))) == [
        Intensity(212, "W", Origin.MEASURED, 0.0)
    ]


def test_a_load_in_kg_stays_because_no_sensor_weighs_it() -> None:
    bout = replace(BOUT, intensity=Intensity(40, "kg"))

    assert given(bout, effort=track((0, 240, 212.0, 3.5))) == [Intensity(40, "kg")]


def test_mean_and_spread_are_of_five_second_means_late_in_the_bout() -> None:
    """Numpy's mean and sample standard deviation of the last 160 s, a third left out."""
    rng = np.random.default_rng(5)
    watts = rng.normal(200, 20, 240)
    kept = EffortTrack()
    for t_s, watt in enumerate(watts.tolist()):
        kept.take(IntensitySample(float(t_s), "one", IntensitySource.ROWER, power_w=watt))
    late = watts[80:].reshape(-1, 5).mean(axis=1)
    (found,) = given(BOUT, effort=kept)

    assert found == Intensity(
        round(float(late.mean())), "W", Origin.MEASURED, round(float(np.std(late, ddof=1)))
    )


def test_too_little_measured_leaves_what_was_entered() -> None:
    """Of the late part, 80 to 240 s, 70 % have to be covered."""
    bout = replace(BOUT, intensity=Intensity(190, "W"))

    assert given(bout, effort=track((80, 191, 212.0, None))) == [Intensity(190, "W")]
    (found,) = given(bout, effort=track((80, 195, 212.0, None)))
    assert found == Intensity(212, "W", Origin.MEASURED, 0.0)


def test_standing_all_the_time_is_no_intensity() -> None:
    assert given(BOUT, effort=track((0, 240, None, 0.0))) == [None]


def test_bouts_of_one_kind_get_the_quantity_that_most_of_them_have() -> None:
    """The power meter came to life in the second bout; the foot sensor was there all along."""
    bouts = [replace(BOUT, start_s=300.0 * i, end_s=300.0 * i + 240) for i in range(3)]
    effort = track((0, 300, None, 3.0), (300, 900, 212.0, 3.5))

    assert given(*bouts, effort=effort) == [
        Intensity(3.0, "m/s", Origin.MEASURED, 0.0),
        Intensity(3.5, "m/s", Origin.MEASURED, 0.0),
        Intensity(3.5, "m/s", Origin.MEASURED, 0.0),
    ]


def test_a_speed_entered_in_km_h_joins_the_measured_ones_of_its_kind() -> None:
    silent = replace(BOUT, start_s=300.0, end_s=540.0, intensity=Intensity(12.6, "km/h"))
    other = replace(silent, start_s=600.0, end_s=840.0, kind="sled push")

    assert given(BOUT, silent, other, effort=track((0, 240, None, 3.0))) == [
        Intensity(3.0, "m/s", Origin.MEASURED, 0.0),
        Intensity(3.5, "m/s"),
        Intensity(12.6, "km/h"),
    ]


def test_rests_have_no_intensity() -> None:
    rest = replace(BOUT, resting=True)

    assert given(rest, effort=track((0, 240, 212.0, 3.5))) == [None]


def test_a_second_sensor_is_not_mixed_in() -> None:
    kept = EffortTrack()
    for t_s in range(240):
        for sensor, m_per_s in (("foot", 3.0), ("treadmill", 3.6)):
            kept.take(
                IntensitySample(float(t_s), sensor, IntensitySource.RUNNING, speed_m_per_s=m_per_s)
            )

    assert set(kept.series(Effort.SPEED).values.tolist()) == {3.0}


@pytest.mark.parametrize(
    ("intensity", "words"),
    [
        (Intensity(250, "W"), f"250{NBSP}W (entered)"),
        (Intensity(4.1, "m/s", Origin.DISTANCE), f"4.1{NBSP}m/s (distance over time)"),
        (Intensity(212, "W", Origin.MEASURED, 6), f"212{NBSP}W (measured, spread 6{NBSP}W)"),
        (Intensity(3.5, "m/s", Origin.MEASURED), f"3.5{NBSP}m/s (measured)"),
        (Intensity(7, ""), "7 (entered)"),
    ],
)
def test_the_words_say_where_it_comes_from(intensity: Intensity, words: str) -> None:
    assert intensity_in_full(intensity) == words
