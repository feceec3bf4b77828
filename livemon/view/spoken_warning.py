"""What is said aloud when a warning calls: who, which muscle, and nothing else."""

from livemon.monitor.snapshot import LaneState
from livemon.tongue import said
from livemon.view.conduct import Conduct
from livemon.view.sounding import calling


def spoken_warning(conduct: Conduct, lanes: tuple[LaneState, ...], muted: frozenset[str]) -> str:
    """Return the sentence for the most urgent warning that calls; empty when none does."""
    signals = calling(conduct, muted)
    if not signals:
        return ""
    names = {lane.athlete: lane.name or lane.athlete for lane in lanes}
    athlete, site = signals[0].athlete, signals[0].site
    sentence = said("{site} keeps falling.", site=site)
    return sentence if len(lanes) == 1 else f"{names.get(athlete, athlete)}: {sentence}"
