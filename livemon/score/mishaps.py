"""Scenarios in which the sensors fail: a loose oximeter, a dry strap."""

from typing import Final

from numpy.random import Generator

from livemon.score.answers import fall, level, settled_after_s, slope
from livemon.score.plan import Faults, Plan, Spans, body, recovery, rest, work, work_bpm
from livemon.synthetic.noise import happenings
from livemon.synthetic.script import Muscle

#: Deliberate storms have a limit of their own.
STORMS: Final = "artefact storm"


def artefact_storm(rng: Generator) -> Plan:
    """About one slip, contact loss or burst a minute, over level work or a fall."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    if rng.random() < 0.3:
        answer, end_s = fall(rng, muscle, slope(rng, 2, 4), settled_after_s(rng, athlete) + 120)
    else:
        answer, end_s = level(rng, muscle, rng.uniform(4, 30)), 600.0
    bout = work(rng, end_s + 60, work_bpm(rng), answer)
    phases = (rest(rng, athlete, 60), bout, recovery(rng, athlete, 120))
    return Plan(athlete, phases, storm(rng, sum(p.seconds for p in phases), muscle))


def storm(rng: Generator, seconds: float, muscle: Muscle) -> Faults:
    """Draw what goes wrong with one sensor, one thing a minute."""
    slips: list[tuple[float, float]] = []
    no_contact: list[tuple[float, float]] = []
    bursts: list[tuple[float, float]] = []
    moved = 0.0
    for at in happenings(rng, seconds, 1.0):
        kind = rng.integers(3)
        length_s = float(rng.uniform(1, 8))
        if kind == 0:
            # A sensor slides about its place; it does not wander off for good.
            by = float(rng.choice((-1, 1)) * rng.uniform(3, 12))
            by = -by if abs(moved + by) > 0.2 * muscle.rest_pct else by
            moved += by
            slips.append((at, by))
        elif kind == 1:
            no_contact.append((at, at + length_s))
        else:
            bursts.append((at, at + length_s))
    return Faults(tuple(slips), tuple(no_contact), tuple(bursts))


def strap_fails(rng: Generator) -> Plan:
    """The strap falls silent, locks to the cadence, or reads wildly; the muscle holds or falls."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    if rng.random() < 0.5:
        answer, end_s = fall(rng, muscle, slope(rng, 1, 4), settled_after_s(rng, athlete) + 30)
    else:
        answer, end_s = level(rng, muscle, rng.uniform(4, 30)), 540.0
    bout = work(rng, end_s + 60, work_bpm(rng), answer)
    phases = (rest(rng, athlete, 60), bout, recovery(rng, athlete, 120))
    seconds = sum(p.seconds for p in phases)
    spans = _spans(rng, seconds)
    faults = (
        Faults(silent=spans),
        Faults(locked=spans),
        Faults(wild_per_min=float(rng.uniform(1, 6))),
    )[rng.integers(3)]
    return Plan(athlete, phases, faults)


def _spans(rng: Generator, seconds: float) -> Spans:
    return tuple((at, at + float(rng.uniform(8, 60))) for at in happenings(rng, seconds, 0.3))
