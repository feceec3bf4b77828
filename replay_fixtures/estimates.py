"""Invented muscles and hearts, second by second, and the SHA-256 of all that is estimated of them.

The recordings' hashes see what a snapshot shows. These see the numbers behind it: every slope with
its error, the noise, the own low, the evidence for and against a fall, in traces that change load,
drain, level off, slip, fall silent and are noisy in several ways. Numbers are hashed with seven
digits, so that a processor which adds up in another order gives the same.
"""

import hashlib
import random  # noqa: TID251 - seeded ones are made here, for the same traces on every run
from collections.abc import Iterable, Iterator
from typing import Final

from livemon.estimate.balance import balance
from livemon.estimate.falling import Fall, best_fall, falls_after_levels
from livemon.estimate.forecast import forecast
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.rivals import lead_over_onset, lead_over_step
from livemon.estimate.steadiness import Steadiness
from livemon.monitor.drain import Drain
from livemon.warn.ending import ending, worth_asking
from livemon.warn.evidence import evidence
from livemon.warn.judge import Conviction, judge
from livemon.warn.settings import WarnSettings
from livemon.warn.unseen import told_without_heart_rate

_SETTINGS: Final = WarnSettings()
#: So that what is asked of a fall without heart rate is asked often.
_EASILY: Final = WarnSettings(
    deep_certain_se=2.0, deep_age_s=12, deep_lost_pct=1.0, over_step_nats=-9.0, over_onset_nats=-9.0
)
_TARGET_TAU_S: Final = 35.0  # of heart rate
#: By name: how the readings are spoilt.
TRACES: Final = {
    "clean": (0.2, 0.0, 0.1),
    "noisy": (0.8, 0.0, 0.1),
    "loud": (2.0, 0.3, 0.1),
    "wandering": (0.5, 0.9, 0.1),
    "smoothed": (0.4, 0.6, 0.1),
    "whole percent": (0.3, 0.0, 1.0),
}  # fmt: skip
#: How often each kind of trace is made, with other chances.
SEEDS: Final = (1, 2, 3, 4, 5)


class _Script:
    """What a muscle and a heart do, one leg after another."""

    def __init__(self, chance: random.Random) -> None:
        self._chance = chance
        self._pct = 68.0
        self._bpm = 75.0
        self.smo2: list[float | None] = []
        self.bpm: list[float | None] = []
        self.marks: set[int] = set()

    def approach(self, seconds: int, pct: float, tau_s: float, bpm: float) -> None:
        """Go on to a level, as after a change of load."""
        for _ in range(seconds):
            self._pct += (pct - self._pct) / tau_s
            self._second(bpm)

    def fall(self, seconds: int, pct_per_min: float, bpm: float) -> None:
        """Fall along a line, down to where no muscle goes."""
        for _ in range(seconds):
            self._pct = max(self._pct - pct_per_min / 60.0, 3.0)
            self._second(bpm)

    def silence(self, seconds: int, *, of_heart: bool) -> None:
        """Let the last seconds hold nothing."""
        readings = self.bpm if of_heart else self.smo2
        readings[-seconds:] = [None] * min(seconds, len(readings))

    def wild(self, at: int, seconds: int, pct: float) -> None:
        """Move some readings away and back."""
        for i in range(at, min(at + seconds, len(self.smo2))):
            level = self.smo2[i]
            self.smo2[i] = None if level is None else level + pct

    def _second(self, bpm: float) -> None:
        self._bpm += (bpm - self._bpm) / _TARGET_TAU_S
        self.smo2.append(self._pct)
        self.bpm.append(self._bpm)


def _scripted(chance: random.Random) -> _Script:
    """Make a session: rest, then bouts, each of which may drain, level off or be troubled."""
    script = _Script(chance)
    script.approach(70, 68.0, 10.0, 75.0)
    for _ in range(4):
        bpm = chance.choice((120.0, 140.0, 150.0, 165.0))
        if chance.random() < 0.5:
            script.marks.add(len(script.smo2))
        level = chance.uniform(35.0, 60.0)
        script.approach(chance.randint(80, 220), level, chance.uniform(8.0, 22.0), bpm)
        rate = chance.choice((0.0, 2.5, 4.0, 6.0, 9.0, 14.0, 24.0))
        script.fall(chance.randint(30, 90), rate, bpm + chance.choice((0.0, 0.0, 6.0)))
        what = chance.randrange(6)
        if what == 0:
            script.fall(40, 0.0, bpm)
        elif what == 1:
            script.wild(len(script.smo2) - 30, chance.choice((1, 2, 30)), 14.0)
        elif what == 2:
            script.silence(chance.randint(3, 16), of_heart=False)
        elif what == 3:
            script.silence(chance.randint(3, 20), of_heart=True)
        script.approach(chance.randint(15, 60), chance.uniform(62.0, 75.0), 14.0, 95.0)
    return script


def _readings(
    levels: Iterable[float | None], sd: float, lasts: float, step: float, chance: random.Random
) -> Iterator[float | None]:
    """Spoil levels by noise of which a part lasts from second to second, in multiples of `step`."""
    noise = 0.0
    for level in levels:
        noise = lasts * noise + chance.gauss(0.0, sd)
        yield None if level is None else round((level + noise) / step) * step


def told(name: str, seed: int) -> Iterator[str]:
    """Yield what is estimated of one trace, a line for each second."""
    sd, lasts, step = TRACES[name]
    chance = random.Random(f"{name} {seed}")
    script = _scripted(chance)
    smo2 = _readings(script.smo2, sd, lasts, step, chance)
    bpm = _readings(script.bpm, chance.choice((0.5, 0.5, 1.5, 4.0)), 0.0, 1.0, chance)
    muscle, heart = Muscle(chance.choice((None, 25.0))), HeartSteadiness()
    drain, convinced = Drain("thigh", _SETTINGS), Conviction()
    if step == 1.0:
        muscle.noise.rounded_to(step)
    for second, (pct, beats) in enumerate(zip(smo2, bpm, strict=True)):
        if second in script.marks:
            heart.load_changed()
        heart.update(beats)
        slipped = muscle.update(pct, warned=drain.warning is not None)
        falls = _of_fall(muscle, heart, convinced, second)
        yield _line(slipped, *_of_heart(heart), *_of_muscle(muscle), *falls)
        if pct is not None or muscle.readings is None:
            yield _line(drain.update(second, float(second), muscle, heart), drain.warning)


def _of_heart(heart: HeartSteadiness) -> Iterator[object]:
    yield from (heart.bpm, heart.state, heart.drift_bpm_per_min, heart.steady_for_s)
    yield from (heart.eased, heart.doubtful, heart.silent_s, heart.certainly_moving)
    if heart.drift_bpm_per_min is not None:
        yield from (heart.change_log_odds(age_s + 2, age_s + 20) for age_s in (10, 20, 35, 60))


def _of_muscle(muscle: Muscle) -> Iterator[object]:
    yield from (muscle.level_pct(), muscle.low.pct, muscle.low.by_fall, muscle.room_pct())
    yield from (muscle.noise.looks, muscle.noise.semivariogram.tolist(), muscle.persistence)
    yield from (muscle.suspicious, muscle.calm_s, muscle.since_told_s, muscle.lowest_lately_pct)
    yield from (muscle.seconds.length, muscle.readings)
    trend, room_pct = muscle.trend(), muscle.room_pct()
    yield from (trend, balance(trend, room_pct), forecast(trend, room_pct, muscle.noise.sd))


def _of_fall(
    muscle: Muscle, heart: HeartSteadiness, convinced: Conviction, second: int
) -> Iterator[object]:
    yield judge(muscle, heart, _SETTINGS, None, 0, convinced)
    readings, length = muscle.readings, muscle.seconds.length
    if readings is None:
        return
    for fall in falls_after_levels(readings, length, 1.0):
        yield fall
        if fall.rate_pct_per_min > 0.0:
            yield lead_over_onset(readings, fall)
    told = Fall(8.0, 1.0, 30, 62, 5.0)
    yield worth_asking(readings, told, length)
    yield ending(muscle, heart, told, second % 90)
    best = best_fall(readings, length, _SETTINGS.margin_pct_per_min)
    if best is None:
        return
    yield _over_step(muscle, best)
    if heart.state is not Steadiness.UNDECIDABLE:
        yield evidence(muscle, heart, best)
    for easily in (_SETTINGS, _EASILY):
        yield told_without_heart_rate(muscle, best, easily, eased=heart.eased)


def _over_step(muscle: Muscle, fall: Fall) -> float:
    window, noise = muscle.seconds.window(), muscle.noise.semivariogram
    return lead_over_step(window, noise, fall.span_s, muscle.persistence)


def _line(*values: object) -> str:
    return " | ".join(map(_text, values))


def _text(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.7g}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_text, value))}]"
    if hasattr(value, "__slots__") and hasattr(value, "__dataclass_fields__"):
        return _text([getattr(value, name) for name in value.__dataclass_fields__])
    return str(value)


def digests() -> Iterator[tuple[str, str]]:
    """Yield the name of each trace and the SHA-256 of its lines."""
    for name in TRACES:
        for seed in SEEDS:
            yield f"{name} {seed}", digest(name, seed)


def digest(name: str, seed: int) -> str:
    """Return the SHA-256 of the lines of one trace, each with its newline."""
    whole = hashlib.sha256()
    for line in told(name, seed):
        whole.update(f"{line}\n".encode())
    return whole.hexdigest()
