"""The whole analysis: what is gathered, and that poor input gives words and no traceback."""

from dataclasses import replace

import numpy as np
import pytest
from invented_bouts import invented_session

from livemon.analyse.bout import Bout, Intensity
from livemon.analyse.lactate import LactateSample
from livemon.analyse.series import NOTHING, Series
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.analyse.windows import Window

SESSION = invented_session(3)
WORK = (Bout(1, 120, 420, "ride"), Bout(2, 420, 600, "rest", resting=True), Bout(3, 600, 900))
T_S = np.arange(0.0, 1200.0)


def test_gathers_every_bout_site_pair_and_pace() -> None:
    heart = Series.of(SESSION.smo2.t_s, np.full(len(SESSION.smo2), 150.0))
    found = analyse_athlete(
        AthleteRecord(
            "A",
            SESSION.bouts,
            heart,
            {"left thigh": SESSION.smo2, "shoulder": SESSION.smo2},
            idle_sites=frozenset({"shoulder"}),
            band_bpm=(140, 160),
        )
    )

    assert [b.bout.number for b in found.bouts] == [1, 2, 3, 4]
    assert [[m.site for m in b.muscles] for b in found.bouts] == [["left thigh", "shoulder"]] * 4
    assert len(found.comparisons) == 6
    assert [(p.site, p.kind) for p in found.paces] == [("left thigh", "ride")]
    assert found.paces[0].pace.intensity.value == pytest.approx(250, abs=15)
    assert "6 different loads" in found.paces[0].breakpoint.at.reason


def test_a_bouts_own_band_comes_before_the_athletes() -> None:
    steady = Series.of(T_S, np.full(1200, 150.0))
    bouts = (Bout(1, 120, 420), Bout(2, 600, 900, band_bpm=(120, 140)))

    found = analyse_athlete(AthleteRecord("A", bouts, steady, band_bpm=(145, 155))).bouts

    assert [b.heart_rate.in_band.value for b in found] == [300, 0]
    assert "145 to 155" in found[0].limiter.evidence[0]
    assert "120 to 140" in found[1].limiter.evidence[0]


def test_a_pace_comes_from_one_kind_of_work_alone() -> None:
    kinds = ("ride", "ride", "row", "row")
    bouts = tuple(replace(b, kind=k) for b, k in zip(SESSION.bouts, kinds, strict=True))

    found = analyse_athlete(AthleteRecord("A", bouts, smo2={"left thigh": SESSION.smo2})).paces

    assert [(p.kind, len(p.pace.points)) for p in found] == [("ride", 2), ("row", 2)]
    assert all("three different intensities" in p.pace.intensity.reason for p in found)


def test_rests_are_not_analysed() -> None:
    found = analyse_athlete(AthleteRecord("A", WORK, smo2={"thigh": NOTHING}))

    assert [b.bout.number for b in found.bouts] == [1, 3]


def test_the_same_input_gives_the_same_bits() -> None:
    record = AthleteRecord("A", SESSION.bouts, smo2={"left thigh": SESSION.smo2})

    assert analyse_athlete(record) == analyse_athlete(record)


POOR = {
    "nothing": NOTHING,
    "one sample": Series.of([150.0], [55.0]),
    "two samples": Series.of([150.0, 800.0], [55.0, 50.0]),
    "all gaps": Series.of(np.arange(0.0, 1200.0, 60), np.full(20, 55.0)),
    "constant": Series.of(T_S, np.full(1200, 55.0)),
    "zero": Series.of(T_S, np.zeros(1200)),
    "ends in the first bout": Series.of(T_S[:300], 55 + np.sin(T_S[:300])),
    "begins in the last bout": Series.of(T_S[700:], 55 + np.sin(T_S[700:])),
    "a hole in the middle": Series.of(
        np.delete(T_S, slice(250, 700)), np.delete(55 + np.sin(T_S), slice(250, 700))
    ),
}


@pytest.mark.parametrize("smo2", POOR.values(), ids=POOR.keys())
@pytest.mark.parametrize("heart", POOR.values(), ids=POOR.keys())
def test_poor_series_give_words(heart: Series, smo2: Series) -> None:
    found = analyse_athlete(
        AthleteRecord(
            "A",
            WORK,
            heart,
            {"thigh": smo2},
            {"thigh": smo2},
            (LactateSample(None, 2.0), LactateSample(400, 3.0)),
            (140, 160),
            resting=Window(0, 60),
            level_pct=50,
            own_low_pct={"thigh": 20},
        )
    )

    for bout in found.bouts:
        assert bout.limiter.evidence
        for muscle in bout.muscles:
            assert muscle.word.reason
            assert muscle.late.slope.value is not None or muscle.late.slope.reason


POOR_BOUTS = {
    "none": (),
    "only rest": (Bout(1, 0, 300, resting=True),),
    "of no length": (Bout(1, 100, 100),),
    "backwards": (Bout(1, 200, 100),),
    "of a second": (Bout(1, 200, 201),),
    "outside the recording": (Bout(1, 5000, 5600),),
    "overlapping": (Bout(1, 100, 500), Bout(2, 300, 700)),
    "three at one load": tuple(
        Bout(i, 100 + 300 * i, 350 + 300 * i, "row", intensity=Intensity(4, "m/s"))
        for i in range(3)
    ),
}


@pytest.mark.parametrize("bouts", POOR_BOUTS.values(), ids=POOR_BOUTS.keys())
def test_poor_bouts_give_words(bouts: tuple[Bout, ...]) -> None:
    series = Series.of(T_S, 55 + np.sin(T_S))

    found = analyse_athlete(AthleteRecord("A", bouts, series, {"thigh": series}))

    assert bool(found.note) is (not found.bouts)
