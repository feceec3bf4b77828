"""How long a plan is, in words."""

import pytest

from livemon.monitor.plan import Plan, Step, StepKind, total_words

BOUT = Step(StepKind.BOUT, "rowing", duration_s=240)
REFILL = Step(StepKind.RECOVERY, refill_pct=95, limit_s=90)
DISTANCE = Step(StepKind.BOUT, "rowing", distance_m=500)


@pytest.mark.parametrize(
    ("steps", "words"),
    [
        ((BOUT,), "1 step, 4 min"),
        ((BOUT, REFILL), "2 steps, at most 5 min 30 s"),
        ((BOUT, DISTANCE), "2 steps, 4 min, and the steps that end by hand"),
        ((REFILL, DISTANCE), "2 steps, 1 min 30 s, and the steps that end by hand"),
        ((DISTANCE,), "1 step, 0 s, and the steps that end by hand"),
    ],
    ids=["one", "refilling may end sooner", "by hand", "neither known", "nothing known"],
)
def test_says_how_many_steps_and_how_long(steps: tuple[Step, ...], words: str) -> None:
    assert total_words(Plan("test", "", steps)) == words
