"""What limits: the reading of working and resting muscle, with its evidence."""

from dataclasses import replace

import numpy as np
import pytest

from livemon.analyse.bout import Bout
from livemon.analyse.heart_rate import HeartRateBout
from livemon.analyse.limits import Limit, Limiter, what_limits
from livemon.analyse.measure import Measure, exactly
from livemon.analyse.muscle import MuscleBout, judge_muscle
from livemon.analyse.series import Series
from livemon.analyse.word import Word
from livemon.estimate.balance import Balance
from livemon.estimate.steadiness import Steadiness

FALLS, HOLDS, REFILLS = Balance.DEMAND_AHEAD, Balance.IN_BALANCE, Balance.SUPPLY_AHEAD
LOW, UNSURE = Balance.AT_LOW, Balance.UNSURE


def muscle(site: str, balance: Balance) -> MuscleBout:
    t_s = np.arange(0.0, 600.0)
    bout = Bout(1, 120, 420)
    judged = judge_muscle(
        site,
        Series.of(t_s, 60 - np.sin(t_s)),
        None,
        bout,
        (bout,),
        resting=None,
        level_pct=None,
        own_low_pct=None,
    )
    return replace(judged, word=Word(balance, "planted"))


def heart(bpm: float = 150, steadiness: Steadiness = Steadiness.STEADY) -> HeartRateBout:
    late = Measure(bpm, bpm - 1, bpm + 1, "bpm")
    return HeartRateBout(late, late, exactly(300, "s"), late, steadiness, exactly(60, "s"))


def limits(
    working: list[Balance],
    idle: list[Balance],
    heart_rate: HeartRateBout | None,
    band: tuple[float, float] | None = (140, 160),
) -> Limiter:
    return what_limits(
        heart_rate,
        [muscle(f"thigh {i}", word) for i, word in enumerate(working)],
        [muscle(f"shoulder {i}", word) for i, word in enumerate(idle)],
        band,
    )


@pytest.mark.parametrize(
    ("working", "idle", "bpm", "limit", "missing"),
    [
        ([FALLS], [HOLDS], 150, Limit.LOCAL, ""),
        ([FALLS], [REFILLS], 150, Limit.LOCAL, ""),
        ([FALLS], [FALLS], 150, Limit.WHOLE_BODY, ""),
        ([REFILLS], [HOLDS], 158, Limit.WHOLE_BODY, ""),
        ([REFILLS], [], 157, Limit.WHOLE_BODY, ""),
        ([REFILLS], [HOLDS], 156.9, Limit.NOT_DECIDABLE, "reached a limit"),
        ([HOLDS], [HOLDS], 158, Limit.NOT_DECIDABLE, "reached a limit"),
        ([REFILLS, HOLDS], [HOLDS], 158, Limit.NOT_DECIDABLE, "reached a limit"),
        ([REFILLS, UNSURE], [HOLDS], 158, Limit.NOT_DECIDABLE, "a clear trend at thigh 1"),
        ([UNSURE, FALLS], [HOLDS], 158, Limit.LOCAL, ""),
        ([FALLS], [], 150, Limit.NOT_DECIDABLE, "second oximeter"),
        ([FALLS], [UNSURE], 150, Limit.NOT_DECIDABLE, "second oximeter"),
        ([UNSURE], [FALLS], 150, Limit.NOT_DECIDABLE, "working muscle"),
        ([], [HOLDS], 150, Limit.NOT_DECIDABLE, "working muscle"),
        ([HOLDS], [FALLS], 158, Limit.NOT_DECIDABLE, "only the resting muscle"),
        ([LOW], [HOLDS], 158, Limit.NOT_DECIDABLE, "at its low"),
        ([HOLDS, FALLS], [HOLDS], 150, Limit.LOCAL, ""),
    ],
)
def test_reads_working_and_resting_muscle_together(
    working: list[Balance], idle: list[Balance], bpm: float, limit: Limit, missing: str
) -> None:
    """Kirby et al. 2021 and Shiroishi et al. 2010 for both falling; the rest is our reading."""
    found = limits(working, idle, heart(bpm))

    assert found.limit is limit
    assert missing in found.missing
    assert bool(found.missing) is (limit is Limit.NOT_DECIDABLE)


def test_a_heart_rate_that_moves_leaves_it_open() -> None:
    found = limits([FALLS], [HOLDS], heart(150, Steadiness.MOVING))

    assert found.limit is Limit.NOT_DECIDABLE
    assert "heart rate that holds" in found.missing


@pytest.mark.parametrize("band", [None, (140.0, 160.0)])
def test_without_heart_rate_a_full_muscle_says_nothing(band: tuple[float, float] | None) -> None:
    found = limits([REFILLS], [HOLDS], None, band)

    assert found.limit is Limit.NOT_DECIDABLE
    assert "heart rate is not known" in found.evidence


def test_the_evidence_names_everything_it_weighed() -> None:
    found = limits([FALLS], [HOLDS], heart(158))

    assert len(found.evidence) == 3
    assert found.evidence[0] == (
        "heart rate 158 bpm, steady, at or above the upper end of its band of 140 to 160 bpm"
    )
    assert found.evidence[1].startswith("thigh 0 (working): demand ahead, ")
    assert found.evidence[2].startswith("shoulder 0 (resting): in balance, ")
    assert "%/min" in found.evidence[1]


def test_no_site_at_all() -> None:
    assert limits([], [], None).evidence == ("heart rate is not known", "no muscle site")


@pytest.mark.parametrize(
    ("bpm", "place"), [(139, ", below its band"), (140, ", in its band"), (157, ", at or above")]
)
def test_says_where_heart_rate_lies_in_its_band(bpm: float, place: str) -> None:
    assert place in limits([HOLDS], [], heart(bpm)).evidence[0]
