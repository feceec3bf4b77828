"""On 200 invented bouts with known truth the 90 % intervals do what they say."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import pytest
from invented_bouts import HOLDS_W, REST_PCT, InventedSession, invented_session

from livemon.analyse.compare import SLOPE, verdict
from livemon.analyse.measure import Measure, difference
from livemon.analyse.series import Series
from livemon.analyse.session import AthleteAnalysis, AthleteRecord, analyse_athlete
from livemon.estimate.balance import Balance

SESSIONS = 50  # of four bouts each
SITE = "left thigh"


def analysed(session: InventedSession, smo2: Series) -> AthleteAnalysis:
    return analyse_athlete(AthleteRecord("A", session.bouts, smo2={SITE: smo2}))


@pytest.fixture(scope="module")
def seen() -> list[tuple[InventedSession, AthleteAnalysis, AthleteAnalysis]]:
    """Each session with what is found in it, with and without noise."""
    sessions = [invented_session(seed) for seed in range(SESSIONS)]
    return [(s, analysed(s, s.smo2), analysed(s, s.true_smo2)) for s in sessions]


def share_held(pairs: Iterator[tuple[Measure, float | None]]) -> float:
    held = [
        measure.low <= truth <= measure.high
        for measure, truth in pairs
        if measure.low is not None and measure.high is not None and truth is not None
    ]
    assert len(held) >= 0.85 * 4 * SESSIONS
    return float(np.mean(held))


def test_slope(seen: list) -> None:
    pairs = (
        (b.muscles[0].late.slope, 0.04 * (HOLDS_W - b.bout.intensity.value))
        for _, found, _ in seen
        for b in found.bouts
    )
    assert 0.86 <= share_held(pairs) <= 0.94


def test_late_level(seen: list) -> None:
    pairs = (
        (b.muscles[0].late.level, true.muscles[0].late.level.value)
        for _, found, bare in seen
        for b, true in zip(found.bouts, bare.bouts, strict=True)
    )
    assert 0.86 <= share_held(pairs) <= 0.94


def test_drop(seen: list) -> None:
    """The truth is the invented rest less the lowest half minute of the invented fall."""

    def truth(session: InventedSession, number: int) -> float:
        bout = session.bouts[number - 1]
        values = session.true_smo2.between(bout.start_s, bout.end_s).values
        rest = session.true_smo2.between(bout.start_s - 60, bout.start_s).values.mean()
        assert rest == pytest.approx(REST_PCT, abs=3)
        return float(rest - np.convolve(values, np.ones(30) / 30, "valid").min())

    pairs = (
        (b.muscles[0].depth.drop, truth(session, b.bout.number))
        for session, found, _ in seen
        for b in found.bouts
    )
    assert 0.86 <= share_held(pairs) <= 0.94


def test_half_recovery_time(seen: list) -> None:
    pairs = (
        (b.muscles[0].recovery.half_time, true.muscles[0].recovery.half_time.value)
        for _, found, bare in seen
        for b, true in zip(found.bouts, bare.bouts, strict=True)
    )
    assert 0.86 <= share_held(pairs) <= 0.94


def test_time_constant_of_the_onset(seen: list) -> None:
    """Its interval comes from the curve's tangent, which is a little too narrow."""
    pairs = (
        (b.muscles[0].onset.time_constant, true.muscles[0].onset.time_constant.value)
        for _, found, bare in seen
        for b, true in zip(found.bouts, bare.bouts, strict=True)
    )
    assert 0.82 <= share_held(pairs) <= 0.94


def test_area_under_the_baseline(seen: list) -> None:
    pairs = (
        (b.muscles[0].depth.area, true.muscles[0].depth.area.value)
        for _, found, bare in seen
        for b, true in zip(found.bouts, bare.bouts, strict=True)
    )
    assert 0.86 <= share_held(pairs) <= 0.96


def test_no_word_has_the_wrong_sign(seen: list) -> None:
    wrong = 0
    for _, found, _ in seen:
        for b in found.bouts:
            assert b.bout.intensity is not None
            truth = 0.04 * (HOLDS_W - b.bout.intensity.value)
            word = b.muscles[0].word.balance
            wrong += truth > 0 and word is Balance.DEMAND_AHEAD
            wrong += truth < 0 and word is Balance.SUPPLY_AHEAD

    assert wrong <= 0.02 * 4 * SESSIONS


def test_no_verdict_has_the_wrong_sign(seen: list) -> None:
    """Slopes of every two bouts of a session, as if heart rate had been alike."""
    wrong = given = 0
    for _, found, _ in seen:
        for a, b in pairwise(found.bouts):
            change = difference(b.muscles[0].late.slope, a.muscles[0].late.slope)
            words = verdict(SLOPE, change, alike=True, between=False)
            given += words in (SLOPE.larger, SLOPE.smaller)
            wrong += words == SLOPE.larger  # the harder bout always falls more

    assert given > 50
    assert wrong <= 0.02 * 3 * SESSIONS
