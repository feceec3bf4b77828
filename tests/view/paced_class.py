"""An invented class that paces well: mixed work under the line, everyday mishaps, seeded.

Each athlete does bouts of their own, in their own order, with rests in between. In each bout every
muscle falls as it does at the onset of work and then holds, refills, or creeps down by a point or
two that levels off. Nobody drains. Sensors have the noise, doubles, losses and contact faults of an
ordinary evening, and some are noisy. All of it is invented; the shapes come from livemon.synthetic.
"""

from collections.abc import Iterator
from dataclasses import replace
from heapq import merge

import numpy as np

from livemon.events import Assigned, Athlete, End, Event, Head, Notification
from livemon.synthetic.oximeter import Oximeter
from livemon.synthetic.radio import Radio
from livemon.synthetic.script import Body, Muscle, Phase, SitePhase, ramp
from livemon.synthetic.sessions import Training
from livemon.synthetic.strap import Strap
from livemon.synthetic.training import events_of, head_of

_WORKS = ("rowing", "step-ups", "sled push")


def class_head(athletes: int) -> Head:
    """Return who wears what."""
    one = head_of(_training(np.random.default_rng(0), 60.0))
    numbers = range(1, athletes + 1)
    return replace(
        one,
        session="a well-paced class",
        athletes=tuple(Athlete(f"a{n}", f"Lane {n}", (140, 156)) for n in numbers),
        sensors=tuple(
            replace(sensor, sensor=f"{n}-{sensor.sensor}")
            for n in numbers
            for sensor in one.sensors
        ),
        assigned=tuple(
            Assigned(0, f"{n}-{worn.sensor}", f"a{n}", worn.sites)
            for n in numbers
            for worn in one.assigned
        ),
    )


def class_events(athletes: int, seconds: float, seed: int, *, drains: int = 0) -> Iterator[Event]:
    """Yield what the whole class' sensors send, and the marks, in order of time.

    The first `drains` athletes pace over the line instead, in every bout.
    """
    streams = [_of_one(n, seconds, seed, n <= drains) for n in range(1, athletes + 1)]
    yield from merge(*streams, key=lambda event: event.t_ns)
    yield End(round(seconds) * 1_000_000_000)


def _of_one(number: int, seconds: float, seed: int, drains: bool) -> list[Event]:
    rng = np.random.default_rng((seed, number))
    found: list[Event] = []
    training = _training(rng, seconds)
    if drains:
        training = replace(training, phases=tuple(_over_the_line(p) for p in training.phases))
    for event in events_of(training, int(rng.integers(2**31))):
        if event.t_ns > seconds * 1e9 or isinstance(event, End):
            continue
        if isinstance(event, Notification) or hasattr(event, "sensor"):
            event = replace(event, sensor=f"{number}-{event.sensor}")
        else:
            event = replace(event, mark=f"{number}-{event.mark}", athlete=f"a{number}")
        found.append(event)
    return found


def _training(rng: np.random.Generator, seconds: float) -> Training:
    rest = SitePhase(68.0), SitePhase(72.0)
    phases = [Phase("rest", False, float(rng.uniform(40, 120)), 74.0, rest)]
    while sum(phase.seconds for phase in phases) < seconds:
        phases.append(_bout(rng))
        easy = SitePhase(73.0, delay_s=4.0, tau_s=18.0, slow_pct=-4.0, slow_delay_s=60.0)
        recovery = Phase(
            "recovery", False, float(rng.uniform(60, 180)), 104.0, (easy, SitePhase(72.0))
        )
        phases.append(recovery)
    minutes = seconds / 60
    loud = float(rng.uniform(0.7, 2.0))  # some sensors sit better than others
    return Training(
        "well paced",
        "Mixed work under the line.",
        tuple(phases),
        Strap(
            wild_per_min=0.1,
            silent=_spans(rng, seconds, minutes / 30),
            radio=Radio(twice_share=0.01, lost_share=0.01),
        ),
        tuple(
            Oximeter(
                rate_hz=rate_hz,
                white_sd=0.4 * loud,
                wander_sd=0.5 * loud,
                slow_sd=0.2 * loud,
                ripple_sd=0.3 * loud,
                spikes_per_min=0.1,
                no_contact=_spans(rng, seconds, minutes / 30),
                slips=tuple(
                    (float(rng.uniform(0, seconds)), float(rng.choice((-6.0, 5.0))))
                    for _ in range(rng.poisson(minutes / 60))
                ),
                radio=Radio(batch_s=float(rng.choice((0.0, 1.0))), lost_share=0.01),
            )
            for rate_hz in (2.0, 1.0)
        ),
        Body(
            (Muscle("left thigh", 68.0, 24.0, 12.4), Muscle("right forearm", 72.0, 30.0, 11.8)),
            68.0, float(rng.uniform(25, 40)), 42.0,
        ),
    )  # fmt: skip


def _bout(rng: np.random.Generator) -> Phase:
    """Return a bout under the line."""
    bpm = float(rng.uniform(142, 154))
    slow = float(rng.choice((0.0, 0.0, 8.0, 4.0, -2.0, -4.0)))
    thigh = SitePhase(
        float(rng.uniform(38, 58)), tau_s=float(rng.uniform(10, 18)), slow_pct=slow,
        slow_tau_s=float(rng.uniform(30, 60)), thb_pct=-0.5,
    )  # fmt: skip
    forearm = SitePhase(float(rng.uniform(60, 70)), tau_s=20.0)
    work = str(rng.choice(_WORKS))
    drift = float(rng.uniform(0.2, 0.5))
    return Phase(work, True, float(rng.uniform(150, 360)), bpm, (thigh, forearm), drift)


def _over_the_line(phase: Phase) -> Phase:
    """Return a bout in which the thigh keeps falling instead."""
    if not phase.working:
        return phase
    thigh = replace(phase.sites[0], level_pct=52.0, slow_pct=0.0, legs=ramp(-7.0, after_s=40.0))
    return replace(phase, sites=(thigh, phase.sites[1]))


def _spans(
    rng: np.random.Generator, seconds: float, mean: float
) -> tuple[tuple[float, float], ...]:
    """Return a few spans of some seconds, at random."""
    begins = np.sort(rng.uniform(0, seconds, rng.poisson(mean)))
    return tuple((float(at), float(at + rng.uniform(5, 25))) for at in begins)
