"""The scenarios: what a muscle and a heart do in training.

Each function draws one trace. They are written from physiology (livemon.synthetic names the
papers) and know nothing of how the warning works.
"""

from collections.abc import Callable
from typing import Final

from numpy.random import Generator

from livemon.score.answers import fall, level, refilling, settled_after_s, slope
from livemon.score.mishaps import STORMS, artefact_storm, strap_fails
from livemon.score.plan import Plan, body, recovery, rest, work, work_bpm
from livemon.synthetic.script import Leg, Phase, SitePhase

Scenario = Callable[[Generator], Plan]

#: Pace changes move heart rate between these.
_SLOWEST_BPM: Final = 105.0
_FASTEST_BPM: Final = 185.0


def resting(rng: Generator) -> Plan:
    """Nothing but rest, with the slow return from the work before at its start."""
    athlete = body(rng)
    warm = work(rng, 120, work_bpm(rng) - 20, level(rng, athlete.muscles[0], rng.uniform(4, 15)))
    return Plan(athlete, (warm, recovery(rng, athlete, 240), rest(rng, athlete, 540)))


def dip_and_refill(rng: Generator) -> Plan:
    """Moderate work: a dip that refills."""
    athlete = body(rng)
    bout = work(rng, 480, work_bpm(rng), refilling(rng, athlete.muscles[0]))
    return Plan(athlete, (rest(rng, athlete, 60), bout, recovery(rng, athlete, 150)))


def drop_and_level(rng: Generator) -> Plan:
    """A drop at the onset, shallow or deep, then level."""
    athlete = body(rng)
    drop = rng.uniform(4, 15) if rng.random() < 0.5 else rng.uniform(20, 50)
    bout = work(rng, 540, work_bpm(rng), level(rng, athlete.muscles[0], drop))
    return Plan(athlete, (rest(rng, athlete, 60), bout, recovery(rng, athlete, 150)))


def over_the_line(rng: Generator) -> Plan:
    """A fall at 1.5-30 %/min that begins after heart rate has settled; flattens, or work stops."""
    athlete = body(rng)
    phases = [rest(rng, athlete, 60)]
    for _ in range(2):
        begin_s = settled_after_s(rng, athlete)
        answer, end_s = fall(rng, athlete.muscles[0], slope(rng), begin_s)
        after_s = 100.0 if rng.random() < 0.5 else 0.0
        phases += [work(rng, end_s + after_s, work_bpm(rng), answer), recovery(rng, athlete, 180)]
    return Plan(athlete, tuple(phases))


def heart_rate_settles(rng: Generator) -> Plan:
    """The muscle falls from soon after the onset; heart rate becomes steady meanwhile."""
    athlete = body(rng)
    begin_s = float(rng.uniform(15, 90))
    muscle = athlete.muscles[0]
    answer, end_s = fall(rng, muscle, slope(rng, 0, 3), begin_s, lasts_s=(180.0, 400.0))
    onset = work(rng, end_s + 80, athlete.rest_bpm + rng.uniform(35, 70), answer)
    return Plan(athlete, (rest(rng, athlete, 60), onset, recovery(rng, athlete, 150)))


def pace_changes(rng: Generator) -> Plan:
    """Every two to four minutes another pace: heart rate and muscle both move to a new level."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    phases, changes, bpm = [rest(rng, athlete, 60)], [], work_bpm(rng) - 15
    own = float(rng.uniform(-6, 6))
    for _ in range(5):
        changes.append(sum(p.seconds for p in phases))
        seconds = float(rng.uniform(120, 240))
        step = float(rng.choice((-1, 1)) * rng.uniform(8, 25))
        bpm += step if _SLOWEST_BPM < bpm + step < _FASTEST_BPM else -step
        depth = max((bpm - 100) / 85 * 35 + own + float(rng.uniform(-1.5, 1.5)), 2.0)
        phases.append(work(rng, seconds, bpm, level(rng, muscle, depth)))
    phases.append(recovery(rng, athlete, 120))
    return Plan(athlete, tuple(phases), pace_changes_s=tuple(changes[1:]))


def intervals(rng: Generator) -> Plan:
    """Work and pause from 20/10 to 40/20 seconds, the muscle emptying and refilling each time."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    work_s, pause_s = ((20.0, 10.0), (30.0, 15.0), (30.0, 30.0), (40.0, 20.0))[rng.integers(4)]
    swing = float(rng.uniform(5, 25))
    centre = max(muscle.rest_pct - rng.uniform(10, 25), muscle.low_pct + swing / 2 + 2)
    bpm = work_bpm(rng)
    on = SitePhase(centre - swing / 2, delay_s=3, tau_s=float(rng.uniform(6, 15)))
    off = SitePhase(centre + swing / 2, delay_s=2, tau_s=float(rng.uniform(6, 15)))
    pair = (
        Phase("work", True, work_s, bpm + 12, (on,)),
        Phase("pause", False, pause_s, bpm - 20, (off,)),
    )
    return Plan(
        athlete,
        (rest(rng, athlete, 60), *pair * int(rng.integers(8, 14)), recovery(rng, athlete, 120)),
    )


def breakaway(rng: Generator) -> Plan:
    """Minutes of level work, then the muscle breaks away though nothing else changes."""
    athlete = body(rng)
    answer, end_s = fall(rng, athlete.muscles[0], slope(rng, 0, 4), float(rng.uniform(240, 480)))
    bout = work(rng, end_s + 60 * float(rng.random() < 0.5), work_bpm(rng), answer)
    return Plan(athlete, (rest(rng, athlete, 60), bout, recovery(rng, athlete, 150)))


def fall_to_the_low(rng: Generator) -> Plan:
    """A fall all the way to the athlete's own low, where it flattens and stays."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    begin_s = settled_after_s(rng, athlete)
    rate = slope(rng, 1, 4)
    start = max(muscle.rest_pct - 15, muscle.low_pct + rate * 1.2)
    reach_s = 60 * (start - muscle.low_pct) / rate
    answer = SitePhase(level_pct=start, legs=(Leg(begin_s, -rate),))
    bout = work(rng, begin_s + reach_s + 150, work_bpm(rng), answer)
    return Plan(athlete, (rest(rng, athlete, 60), bout, recovery(rng, athlete, 150)))


def bouts_with_recoveries(rng: Generator) -> Plan:
    """Bouts of several minutes; some hold, some refill, some fall."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    phases = [rest(rng, athlete, 60)]
    for _ in range(3):
        kind = rng.integers(3)
        seconds = float(rng.uniform(200, 360))
        if kind == 0:
            answer = level(rng, muscle, rng.uniform(4, 35))
        elif kind == 1:
            answer = refilling(rng, muscle)
        else:
            answer, seconds = fall(rng, muscle, slope(rng, 0, 4), settled_after_s(rng, athlete))
        bout = work(rng, seconds, work_bpm(rng), answer)
        phases += [bout, recovery(rng, athlete, float(rng.uniform(100, 180)))]
    return Plan(athlete, tuple(phases))


def two_sites(rng: Generator) -> Plan:
    """A working and a resting muscle, or two working ones: one falls, the other holds."""
    athlete = body(rng, ("left thigh", "right forearm"))
    one, other = athlete.muscles
    answer, end_s = fall(rng, one, slope(rng, 1, 4), settled_after_s(rng, athlete))
    beside = level(rng, other, rng.uniform(0, 20))
    bout = work(rng, end_s + 60, work_bpm(rng), answer, beside)
    return Plan(athlete, (rest(rng, athlete, 60), bout, recovery(rng, athlete, 150)))


#: By the name under which each one is reported.
SCENARIOS: Final[dict[str, Scenario]] = {
    "rest": resting,
    "dip then refill": dip_and_refill,
    "drop and level": drop_and_level,
    "over the line": over_the_line,
    "heart rate settles": heart_rate_settles,
    "pace changes": pace_changes,
    "intervals": intervals,
    "breakaway": breakaway,
    "fall to the low": fall_to_the_low,
    STORMS: artefact_storm,
    "strap fails": strap_fails,
    "bouts and recoveries": bouts_with_recoveries,
    "two sites": two_sites,
}
