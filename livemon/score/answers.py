"""How a muscle answers: the pieces the scenarios are put together from."""

from typing import Final

from numpy.random import Generator

from livemon.synthetic.script import Body, Leg, Muscle, SitePhase

#: Slopes at which a muscle drains, %/min: every class of the published table as often as another.
SLOPE_CLASSES: Final = ((1.5, 2.5), (2.5, 4.0), (4.0, 7.0), (7.0, 12.0), (12.0, 20.0), (20.0, 30.0))
#: A fall has to end above the low by this much, or it bends before its time.
_ROOM_KEPT_PCT: Final = 4.0


def settled_after_s(rng: Generator, athlete: Body) -> float:
    """Draw a time by which heart rate has surely become steady after an onset."""
    return athlete.on_tau_s * float(rng.uniform(4.6, 7.0))


def level(rng: Generator, muscle: Muscle, drop_pct: float) -> SitePhase:
    """Drop and hold."""
    return SitePhase(
        level_pct=max(muscle.rest_pct - drop_pct, muscle.low_pct + 3),
        delay_s=float(rng.uniform(6, 14)),
        tau_s=float(rng.uniform(8, 25)),
        thb_pct=float(rng.uniform(-2, 1)),
    )


def refilling(rng: Generator, muscle: Muscle) -> SitePhase:
    """Dip, then refill part of the way: moderate work."""
    dip = float(rng.uniform(6, 25))
    return SitePhase(
        level_pct=max(muscle.rest_pct - dip, muscle.low_pct + 3),
        delay_s=float(rng.uniform(6, 14)),
        tau_s=float(rng.uniform(8, 20)),
        slow_pct=dip * float(rng.uniform(0.2, 0.9)),
        slow_delay_s=float(rng.uniform(25, 70)),
        slow_tau_s=float(rng.uniform(20, 80)),
    )


def slope(rng: Generator, first: int = 0, last: int = len(SLOPE_CLASSES) - 1) -> float:
    """Draw how fast a muscle drains, from the classes `first` to `last`."""
    lowest, highest = SLOPE_CLASSES[int(rng.integers(first, last + 1))]
    return float(rng.uniform(lowest, highest))


def fall(
    rng: Generator,
    muscle: Muscle,
    rate: float,
    from_s: float,
    lasts_s: tuple[float, float] = (60.0, 240.0),
) -> tuple[SitePhase, float]:
    """Hold, then fall at `rate` from `from_s` on, then hold again; return it and the fall's end.

    It lasts between `lasts_s`, or until there is no room left. The faster the fall, the higher it
    starts, so that it can last a minute.
    """
    high = muscle.rest_pct - float(rng.uniform(3, 8))
    deepest = max(high - muscle.low_pct - _ROOM_KEPT_PCT - rate * 1.05, 0.0)
    drop = float(rng.uniform(0, 1)) * min(deepest, 25.0)
    start = high - drop
    room_s = 60 * (start - muscle.low_pct - _ROOM_KEPT_PCT) / rate
    seconds = min(float(rng.uniform(*lasts_s)), room_s)
    legs = (Leg(from_s, -rate), Leg(from_s + seconds, 0.0))
    answer = SitePhase(
        level_pct=start,
        delay_s=float(rng.uniform(6, 14)),
        tau_s=float(rng.uniform(8, 20)),
        legs=legs,
    )
    return answer, from_s + seconds
