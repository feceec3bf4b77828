"""One trace: the truth, what the sensors report of it, and what a warning would count as."""

from dataclasses import dataclass, replace
from typing import Final

from livemon.score.conditions import Conditions, draw, oximeter
from livemon.score.event import Verdicts, unobservable, verdicts
from livemon.score.plan import Plan
from livemon.score.seeds import TraceKey, scenarios
from livemon.synthetic.beats import WANDER_BPM
from livemon.synthetic.body import Truth, truth
from livemon.synthetic.oximeter import Oximeter, Readings, delivered, readings
from livemon.synthetic.radio import Sample, in_arrival_order
from livemon.synthetic.strap import Strap, strap_stream

#: A strap that has just come back has to be watched for this long before it can be believed.
_BELIEVED_AFTER_S: Final = 15.0
#: Half as uneven as the one real heart that was looked at, to half as much again.
_WANDER_TIMES: Final = (0.5, 1.5)


@dataclass(frozen=True, slots=True)
class Trace:
    """Everything about one trace."""

    key: TraceKey
    conditions: Conditions
    plan: Plan
    truth: Truth
    oximeters: tuple[Oximeter, ...]
    shown: tuple[Readings, ...]  #: what the oximeters show, before it travels
    samples: list[Sample]  #: what arrives, in that order
    verdicts: tuple[Verdicts, ...]  #: one a site

    def index(self, t_s: float) -> int:
        """Return the moment on the time base of the truth."""
        step_s = self.truth.t_s[1] - self.truth.t_s[0]
        return min(max(int(t_s / step_s), 0), len(self.truth.t_s) - 1)


def trace(key: TraceKey) -> Trace:
    """Draw the trace that `key` names."""
    rng = key.chance()
    plan = scenarios(key.family)[key.scenario](rng)
    conditions = draw(rng)
    true = truth(plan.phases, plan.body)
    faults = plan.faults
    strap = Strap(
        wander_bpm=WANDER_BPM * float(rng.uniform(*_WANDER_TIMES)),
        swing_bpm=faults.swing_bpm,
        sends_rr=bool(rng.random() < 0.7),
        silent=faults.silent,
        locked=faults.locked,
        cadence_bpm=float(rng.uniform(75, 100)),
        wild_per_min=faults.wild_per_min,
    )
    sensors = tuple(
        replace(
            oximeter(rng, conditions, plan.seconds),
            noisier=faults.noisier,
            slips=faults.slips,
            no_contact=faults.no_contact,
            bursts=faults.bursts,
        )
        for _ in true.sites
    )
    shown = tuple(readings(rng, true, i, sensor) for i, sensor in enumerate(sensors))
    streams = [delivered(rng, r, s) for r, s in zip(shown, sensors, strict=True)]
    samples = in_arrival_order([strap_stream(rng, true, strap), *streams])
    lost = (*faults.silent, *faults.locked)
    observable = ~unobservable(true.t_s, lost, _BELIEVED_AFTER_S)
    judged = tuple(verdicts(true, site, observable) for site in true.sites)
    return Trace(key, conditions, plan, true, sensors, shown, samples, judged)
