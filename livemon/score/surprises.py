"""Shapes that nobody tuned on: they are in the final family only."""

from typing import Final

import numpy as np
from numpy.random import Generator

from livemon.score.answers import fall, level, settled_after_s, slope
from livemon.score.plan import Faults, Plan, body, recovery, rest, work
from livemon.score.scenarios import Scenario
from livemon.synthetic.script import Body, Leg, SitePhase


def _bout(rng: Generator, athlete: Body, answer: SitePhase, seconds: float) -> Plan:
    bout = work(rng, seconds, float(rng.uniform(120, 180)), answer)
    return Plan(athlete, (rest(rng, athlete, 60), bout, recovery(rng, athlete, 150)))


def curved_fall(rng: Generator) -> Plan:
    """A fall that grows steeper, or one that fades like an exponential."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    begin_s, rate = settled_after_s(rng, athlete), slope(rng, 1, 3)
    start = muscle.rest_pct - float(rng.uniform(3, 8))
    if rng.random() < 0.5:
        seconds = min(240.0, 60 * (start - muscle.low_pct - 4) / rate * 1.6)
        shares = np.linspace(0.25, 1.0, 16)
        legs = [Leg(begin_s + i * seconds / 16, -rate * s) for i, s in enumerate(shares.tolist())]
        legs.append(Leg(begin_s + seconds, 0.0))
        answer = SitePhase(level_pct=start, legs=tuple(legs))
        return _bout(rng, athlete, answer, begin_s + seconds + 80)
    tau_s = float(rng.uniform(80, 160))
    size = min(rate * tau_s / 60, start - muscle.low_pct - 4)
    answer = SitePhase(level_pct=start, slow_pct=-size, slow_delay_s=begin_s, slow_tau_s=tau_s)
    return _bout(rng, athlete, answer, begin_s + 3 * tau_s)


def staircase(rng: Generator) -> Plan:
    """Steps of 20-40 s downwards with level treads between them."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    at, rate = settled_after_s(rng, athlete), slope(rng, 2, 3)
    room = muscle.rest_pct - 6 - muscle.low_pct - 4
    legs: list[Leg] = []
    while room > rate * 0.7 and len(legs) < 10:
        step_s = float(rng.uniform(20, 40))
        legs += [Leg(at, -rate), Leg(at + step_s, 0.0)]
        room -= rate * step_s / 60
        at += step_s + float(rng.uniform(8, 35))
    answer = SitePhase(level_pct=muscle.rest_pct - 6, legs=tuple(legs))
    return _bout(rng, athlete, answer, at + 60)


def changing_noise(rng: Generator) -> Plan:
    """Noise that doubles or triples for a while, over level work or a fall."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    if rng.random() < 0.5:
        answer, end_s = fall(rng, muscle, slope(rng, 2, 4), settled_after_s(rng, athlete) + 60)
    else:
        answer, end_s = level(rng, muscle, rng.uniform(4, 30)), 540.0
    plan = _bout(rng, athlete, answer, end_s + 60)
    begin_s = rng.uniform(60, 200)
    louder = (begin_s, begin_s + rng.uniform(60, 200), rng.uniform(1.8, 3.0))
    return Plan(plan.body, plan.phases, Faults(noisier=(louder,)))


def breathing_heart(rng: Generator) -> Plan:
    """Heart rate swings by several beats with the breath; the muscle holds or falls."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    if rng.random() < 0.5:
        answer, end_s = fall(rng, muscle, slope(rng, 1, 4), settled_after_s(rng, athlete))
    else:
        answer, end_s = level(rng, muscle, rng.uniform(4, 30)), 540.0
    plan = _bout(rng, athlete, answer, end_s + 60)
    return Plan(plan.body, plan.phases, Faults(swing_bpm=float(rng.uniform(2, 6))))


def slow_drift(rng: Generator) -> Plan:
    """Ten minutes at 0.3-1 %/min downwards: skin, heat, a long day. Not to be warned of."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    rate = float(rng.uniform(0.3, 1.0))
    start = level(rng, muscle, rng.uniform(4, 12))
    answer = SitePhase(
        start.level_pct, start.delay_s, start.tau_s, legs=(Leg(rng.uniform(60, 200), -rate),)
    )
    return _bout(rng, athlete, answer, 780)


def deep_and_level(rng: Generator) -> Plan:
    """Level at 15-20 %: hardly any room, and nothing happens."""
    athlete = body(rng)
    muscle = athlete.muscles[0]
    answer = level(rng, muscle, muscle.rest_pct - float(rng.uniform(15, 20)))
    return _bout(rng, athlete, answer, 600)


SURPRISES: Final[dict[str, Scenario]] = {
    "curved fall": curved_fall,
    "staircase": staircase,
    "changing noise": changing_noise,
    "breathing heart": breathing_heart,
    "slow drift": slow_drift,
    "deep and level": deep_and_level,
}
