"""The resting baseline in words: how long it takes, whether it is steady, what it found."""

from typing import Final

from livemon.estimate.resting import LEAST_S, MOST_S, Rest, RestingState
from livemon.view.kit_facts import Resting
from livemon.view.kit_model import BaselineModel
from livemon.view.numbers import clock, rate, whole

#: Of whom: all who wear an oximeter.
EVERYBODY: Final = "everybody"
_STABLE: Final = "stable"


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
        clock=f"{clock(left_s)} left" if resting.running else f"taken in {clock(elapsed_s)}",
        rows=rows,
    )


def _level(state: RestingState) -> str:
    return f"{whole(state.level_pct)} %"


def _words(state: RestingState, resting: Resting) -> str:
    words = _verdict(state)
    if resting.running or state.verdict is Rest.STABLE:
        return words
    return f"not set: {words}" if state.level_pct is None else f"set, but {words}"


def _verdict(state: RestingState) -> str:
    match state.verdict:
        case Rest.WAITING:
            return "resting"
        case Rest.STABLE:
            return _STABLE
        case Rest.SPARSE:
            return "too few readings, see how it sits"
        case Rest.UNSTEADY:
            return f"unsteady by {whole(state.spread_pct)} points, keep still and see how it sits"
        case Rest.DRIFTING:
            drift = state.drift_pct_per_min or 0.0
            way = "rising" if drift > 0 else "falling"
            return f"still {way} by {rate(drift)} %/min, keep still"


def everybody_words(baselines: tuple[BaselineModel, ...]) -> str:
    """Say how the baselines of a class stand, in one line or two."""
    running = [one for one in baselines if one.running]
    if running:
        last = min(running, key=lambda one: one.share)
        return f"{last.clock.capitalize()}. {len(running)} of {len(baselines)} are resting."
    doubtful = sum(any(words != _STABLE for _, _, words in one.rows) for one in baselines)
    words = f"{len(baselines)} taken."
    return words if not doubtful else f"{words} Look at {doubtful} that were not stable."
