"""The resting baseline in words: how long it takes, whether it is steady, what it found."""

from typing import Final

from livemon.estimate.resting import LEAST_S, MOST_S, Rest, RestingState
from livemon.tongue import marked, said, said_n
from livemon.view.kit_facts import Resting
from livemon.view.kit_model import BaselineModel
from livemon.view.numbers import clock, rate, whole

#: Of whom: all who wear an oximeter.
EVERYBODY: Final = marked("everybody")

#: While it is taken; and when it is over, and a level was set all the same.
_WORDS: Final = {
    Rest.WAITING: (marked("resting"), marked("resting")),
    Rest.STABLE: (marked("stable"), marked("stable")),
    Rest.SPARSE: (
        marked("too few readings, see how it sits"),
        marked("set, but too few readings, see how it sits"),
    ),
    Rest.UNSTEADY: (
        marked("unsteady by {points} points, keep still and see how it sits"),
        marked("set, but unsteady by {points} points, keep still and see how it sits"),
    ),
}
_RISING: Final = (
    marked("still rising by {rate} %/min, keep still"),
    marked("set, but still rising by {rate} %/min, keep still"),
)
_FALLING: Final = (
    marked("still falling by {rate} %/min, keep still"),
    marked("set, but still falling by {rate} %/min, keep still"),
)
#: There are no other reasons for having no level at the end.
_NOT_SET: Final = marked("not set: too few readings, see how it sits")


def baseline_model(resting: Resting) -> BaselineModel:
    """Word one athlete's baseline."""
    elapsed_s = max((state.elapsed_s for _, state in resting.sites), default=0.0)
    left_s = max((state.left_s for _, state in resting.sites), default=0.0)
    most_s = LEAST_S if elapsed_s < LEAST_S else MOST_S
    rows = tuple((site, _level(state), _words(state, resting)) for site, state in resting.sites)
    return BaselineModel(
        athlete=resting.athlete,
        running=resting.running,
        share=min(elapsed_s / most_s, 1.0) if resting.running else 1.0,
        clock=said("{time} left", time=clock(left_s))
        if resting.running
        else said("Taken in {time}", time=clock(elapsed_s)),
        rows=rows,
        doubtful=any(state.verdict is not Rest.STABLE for _, state in resting.sites),
    )


def _level(state: RestingState) -> str:
    return f"{whole(state.level_pct)} %"


def _words(state: RestingState, resting: Resting) -> str:
    if not resting.running and state.level_pct is None:
        return said(_NOT_SET)
    drift = state.drift_pct_per_min or 0.0
    drifting = _RISING if drift > 0 else _FALLING
    so_far, set_all_the_same = _WORDS.get(state.verdict, drifting)
    return said(
        so_far if resting.running else set_all_the_same,
        points=whole(state.spread_pct),
        rate=rate(drift),
    )


def everybody_words(baselines: tuple[BaselineModel, ...]) -> str:
    """Say how the baselines of a class stand, in one line or two."""
    running = [one for one in baselines if one.running]
    if running:
        last = min(running, key=lambda one: one.share)
        return said_n(
            "{left}. {n} of {all} is resting.",
            "{left}. {n} of {all} are resting.",
            len(running),
            left=last.clock,
            all=len(baselines),
        )
    doubtful = sum(one.doubtful for one in baselines)
    taken = said_n("{n} taken.", "{n} taken.", len(baselines))
    if not doubtful:
        return taken
    look = said_n("Look at {n} that was not stable.", "Look at {n} that were not stable.", doubtful)
    return f"{taken} {look}"
