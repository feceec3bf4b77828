"""What surrounded a false warning, on the noise-free truth."""

import pytest

from livemon.score.cause import Cause, cause
from livemon.score.judge import judge
from livemon.score.seeds import Family, TraceKey
from livemon.score.trace import trace
from livemon.score.watch import Shown, Watched

LEVEL = trace(TraceKey(Family.TUNING, "drop and level", 0))
STOPS = trace(TraceKey(Family.TUNING, "breakaway", 0))
CHANGES = trace(TraceKey(Family.TUNING, "pace changes", 0))
SETTLES = trace(TraceKey(Family.TUNING, "heart rate settles", 0))


@pytest.mark.parametrize(
    ("at_s", "why"),
    [
        pytest.param(30.0, Cause.REST, id="rest before the bout"),
        pytest.param(80.0, Cause.LOAD, id="20 s into the bout, which begins at 60 s"),
        pytest.param(400.0, Cause.LEVEL, id="minutes into the bout"),
        pytest.param(620.0, Cause.REST, id="recovery"),
    ],
)
def test_a_drop_that_stays_level(at_s: float, why: Cause) -> None:
    assert cause(LEVEL, 0, at_s) is why


def test_a_change_of_pace_is_a_load() -> None:
    assert cause(CHANGES, 0, CHANGES.plan.pace_changes_s[0] + 30.0) is Cause.LOAD


def test_the_seconds_after_a_fall_that_flattened() -> None:
    fall = SETTLES.verdicts[0].falls[0]

    assert cause(SETTLES, 0, fall.end_s + 20.0) is Cause.AFTER_FALL


def test_a_muscle_that_falls_while_heart_rate_still_moves() -> None:
    """Ten seconds before heart rate is steady, more than a minute into the bout."""
    fall = SETTLES.verdicts[0].falls[0]

    assert fall.settles
    assert cause(SETTLES, 0, fall.start_s - 1.0) in {Cause.SETTLING, Cause.LOAD}


def test_only_false_warnings_have_one() -> None:
    fall = STOPS.verdicts[0].falls[0]
    shown = (Shown(0, 30.0, 40.0), Shown(0, fall.start_s + 20.0, fall.end_s))
    edges = judge(STOPS, Watched(shown, ())).edges

    assert [e.cause for e in edges] == [Cause.REST, None]
