"""The balance word of a bout. The four cases are facts of the trade: common practice, no source."""

import numpy as np
import pytest
from invented_bouts import correlated_noise

from livemon.analyse.bout import Bout
from livemon.analyse.measure import Measure
from livemon.analyse.series import Series
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.analyse.word import balance_word
from livemon.estimate.balance import Balance

S = np.arange(300.0)
DIP = 70 - 18 * (1 - np.exp(-S / 12)) * np.exp(-np.clip(S - 30, 0, None) / 40)
LEVEL = 70 - 15 * (1 - np.exp(-S / 12))
DEEP = 70 - 32 * (1 - np.exp(-S / 12))
FALLING = LEVEL - 3.0 * S / 60


def words(*works: np.ndarray, seed: int = 1, own_low: float | None = None) -> list[Balance]:
    """One session of five-minute bouts with four-minute rests, all at 150 bpm."""
    rng = np.random.default_rng(seed)
    values, bouts = [np.full(120, 70.0)], []
    for i, work in enumerate(works):
        start = sum(map(len, values))
        bouts.append(Bout(i + 1, start, start + 300))
        values += [work, 70 - (70 - work[-1]) * np.exp(-np.arange(240.0) / 20)]
    y = np.concatenate(values)
    y += correlated_noise(rng, len(y), 5, 0.8) + rng.normal(size=len(y)) / 2
    smo2 = {"left thigh": Series.of(np.arange(len(y)), y)}
    heart = Series.of(np.arange(len(y)), np.full(len(y), 150.0))
    lows = {} if own_low is None else {"left thigh": own_low}
    found = analyse_athlete(AthleteRecord("A", tuple(bouts), heart, smo2, own_low_pct=lows))
    return [b.muscles[0].word.balance for b in found.bouts]


@pytest.mark.parametrize("seed", range(5))
def test_at_one_heart_rate_four_bouts_read_differently(seed: int) -> None:
    assert words(DIP, LEVEL, DEEP, FALLING, seed=seed) == [
        Balance.SUPPLY_AHEAD,  # dips and returns to baseline
        Balance.IN_BALANCE,  # drops and stays level
        Balance.IN_BALANCE,  # deeper, and still level
        Balance.DEMAND_AHEAD,  # goes on falling
    ]


def test_level_at_the_own_low_is_at_low() -> None:
    assert words(LEVEL, DEEP, own_low=36.0) == [Balance.IN_BALANCE, Balance.AT_LOW]


def measure(value: float, half: float) -> Measure:
    return Measure(value, value - half, value + half, "")


@pytest.mark.parametrize(
    ("slope", "half", "word"),
    [
        (-0.5, 0.4, Balance.DEMAND_AHEAD),
        (-0.49, 0.4, Balance.IN_BALANCE),
        (-0.5, 0.5, Balance.IN_BALANCE),
        (0.5, 0.4, Balance.SUPPLY_AHEAD),
        (0.49, 0.4, Balance.IN_BALANCE),
        (0.0, 1.5, Balance.IN_BALANCE),
        (0.0, 1.51, Balance.UNSURE),
        (-2.0, 2.5, Balance.UNSURE),
        (2.0, 2.5, Balance.UNSURE),
    ],
)
def test_the_boundaries_of_the_words(slope: float, half: float, word: Balance) -> None:
    found = balance_word(measure(slope, half), measure(20, 1), measure(50, 1), measure(51, 1), None)

    assert found.balance is word
    assert found.reason


@pytest.mark.parametrize(
    ("own_low", "word"),
    [(None, Balance.IN_BALANCE), (47.9, Balance.IN_BALANCE), (48.0, Balance.AT_LOW)],
)
def test_near_the_own_low_is_within_three_points(own_low: float | None, word: Balance) -> None:
    found = balance_word(measure(0, 0.5), measure(20, 1), measure(50, 1), measure(51, 1), own_low)

    assert found.balance is word


@pytest.mark.parametrize(
    ("drop", "end", "word"),
    [
        (20, 60, Balance.SUPPLY_AHEAD),
        (20, 59.9, Balance.IN_BALANCE),
        (2.9, 52.5, Balance.IN_BALANCE),
    ],
    ids=["half came back", "less than half", "no drop to speak of"],
)
def test_refilled_means_half_of_a_real_drop(drop: float, end: float, word: Balance) -> None:
    found = balance_word(
        measure(0, 0.5), measure(drop, 0.5), measure(50, 0.5), measure(end, 0.5), None
    )

    assert found.balance is word


def test_refilled_needs_both_levels_beyond_doubt() -> None:
    end = measure(60, 6)  # from 54 on, while the nadir reaches up to 55

    found = balance_word(measure(0, 0.5), measure(20, 0.5), measure(50, 5), end, None)

    assert found.balance is Balance.IN_BALANCE


def test_no_slope_no_word() -> None:
    lost = Measure(None, None, None, "%/min", "too short")

    found = balance_word(lost, measure(20, 1), measure(50, 1), measure(51, 1), None)

    assert (found.balance, found.reason) == (Balance.UNSURE, "too short")
