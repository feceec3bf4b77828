"""What a scenario asks for: a script, a body, and the faults that strike its sensors."""

from dataclasses import dataclass

from numpy.random import Generator

from livemon.synthetic.script import Body, Muscle, Phase, SitePhase

Spans = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Faults:
    """What happens to the sensors, beyond the conditions they work under."""

    slips: tuple[tuple[float, float], ...] = ()
    no_contact: Spans = ()
    bursts: Spans = ()
    noisier: tuple[tuple[float, float, float], ...] = ()
    silent: Spans = ()
    locked: Spans = ()
    wild_per_min: float = 0.0
    swing_bpm: float = 0.0


@dataclass(frozen=True, slots=True)
class Plan:
    """One trace before it is drawn."""

    body: Body
    phases: tuple[Phase, ...]
    faults: Faults = Faults()
    pace_changes_s: tuple[float, ...] = ()

    @property
    def seconds(self) -> float:
        """How long it takes."""
        return sum(phase.seconds for phase in self.phases)


def body(rng: Generator, sites: tuple[str, ...] = ("left thigh",)) -> Body:
    """Draw an athlete."""
    return Body(
        muscles=tuple(
            Muscle(
                site,
                rest_pct=float(rng.uniform(66, 80)),
                low_pct=float(rng.uniform(12, 26)),
                rest_thb=float(rng.uniform(11.5, 13)),
            )
            for site in sites
        ),
        rest_bpm=float(rng.uniform(52, 75)),
        on_tau_s=float(rng.uniform(28, 50)),
        off_tau_s=float(rng.uniform(40, 65)),
    )


def rest(rng: Generator, athlete: Body, seconds: float) -> Phase:
    """Sit still."""
    still = tuple(SitePhase() for _ in athlete.muscles)
    return Phase("rest", False, seconds, athlete.rest_bpm + rng.uniform(-3, 3), still)


def work_bpm(rng: Generator) -> float:
    """Draw a heart rate to work at."""
    return float(rng.uniform(125, 175))


def work(rng: Generator, seconds: float, bpm: float, *sites: SitePhase) -> Phase:
    """Work at one load."""
    return Phase("work", True, seconds, bpm, sites, drift_bpm_per_min=float(rng.uniform(0.1, 0.5)))


def recovery(rng: Generator, athlete: Body, seconds: float) -> Phase:
    """Stop: the muscle refills past its resting level and comes back slowly."""
    over = rng.uniform(0, 9, len(athlete.muscles))
    sites = tuple(
        SitePhase(
            level_pct=min(muscle.rest_pct + over[i], 92.0),
            delay_s=float(rng.uniform(1, 5)),
            tau_s=float(rng.uniform(10, 35)),
            slow_pct=-float(over[i]),
            slow_delay_s=float(rng.uniform(50, 90)),
            slow_tau_s=float(rng.uniform(50, 100)),
            thb_pct=float(rng.uniform(0, 2)),
        )
        for i, muscle in enumerate(athlete.muscles)
    )
    return Phase("recovery", False, seconds, athlete.rest_bpm + rng.uniform(10, 35), sites)
