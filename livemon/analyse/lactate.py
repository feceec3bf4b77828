"""Lactate beside the bouts: what changed beyond the error of sampling, and the MLSS criterion."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

from livemon.analyse.bout import Bout
from livemon.analyse.measure import UPPER, Measure, unknown
from livemon.analyse.student import student_quantile

# Residual standard error of hand-held analysers 0.15 to 0.22 mmol/L between 0.9 and 4.9 mmol/L
# (Mentzoni et al. 2024, doi 10.1007/s00421-024-05572-6). Sweat and handling can add far more.
SAMPLE_SD: Final = 0.2
# A sample may be drawn in the first minutes after the bout; the level still belongs to it.
_AFTER_S: Final = 180.0
_BEFORE_S: Final = 600.0
_NORMAL: Final = 1e6

# Maximal lactate steady state: a rise of no more than 0.05 mmol/L per minute, that is 1.0 mmol/L
# from minute 10 to minute 30 (doi 10.1055/s-0032-1321719).
MLSS_PER_MIN: Final = 0.05
MLSS_FROM_S: Final = 600.0
MLSS_TO_S: Final = 1800.0
_CLOCK_TOLERANCE_S: Final = 90.0


@dataclass(frozen=True, slots=True)
class LactateSample:
    """One sample.

    Attributes:
        t_s: when it was drawn; None when nobody noted it.
        site: where it was drawn: earlobe, fingertip; may be empty.
    """

    t_s: float | None
    mmol_per_l: float
    site: str = ""


@dataclass(frozen=True, slots=True)
class LactateBout:
    """One bout's lactate.

    Attributes:
        last: the last sample of the bout, or just after it.
        change: from the last sample before the bout.
        mlss_rise: per minute from minute 10 to minute 30.
        mlss_met: whether that meets the published criterion; None when it can't be judged.
        mlss_clear: whether sampling error leaves no doubt.
    """

    last: Measure
    change: Measure
    mlss_rise: Measure
    mlss_met: bool | None
    mlss_clear: bool


def judge_lactate(samples: Sequence[LactateSample], bout: Bout) -> LactateBout:
    """Gather one bout's lactate figures."""
    timed = sorted((s for s in samples if s.t_s is not None), key=_time)
    rise = _mlss_rise(timed, bout)
    met = None if rise.value is None else rise.value <= MLSS_PER_MIN + 1e-12
    clear = (rise.high is not None and rise.high <= MLSS_PER_MIN) or (
        rise.low is not None and rise.low > MLSS_PER_MIN
    )
    during = [s for s in timed if bout.start_s < _time(s) <= bout.end_s + _AFTER_S]
    if not during:
        untimed = "" if len(timed) == len(samples) else "; samples without a time can't be used"
        reason = f"no lactate sample in this bout{untimed}"
        lost = unknown("mmol/L", reason)
        return LactateBout(lost, lost, rise, met, clear)
    last = during[-1]
    before = [s for s in timed if bout.start_s - _BEFORE_S <= _time(s) <= bout.start_s]
    return LactateBout(_level(last), _change(before, last), rise, met, clear)


def _time(sample: LactateSample) -> float:
    return 0.0 if sample.t_s is None else sample.t_s


def _level(sample: LactateSample) -> Measure:
    half = student_quantile(UPPER, _NORMAL) * SAMPLE_SD
    value = sample.mmol_per_l
    return Measure(value, max(value - half, 0.0), value + half, "mmol/L")


def _step(first: LactateSample, second: LactateSample) -> Measure:
    if first.site != second.site:
        reason = f"drawn at different sites: {first.site or '?'} and {second.site or '?'}"
        return unknown("mmol/L", reason)
    half = student_quantile(UPPER, _NORMAL) * SAMPLE_SD * sqrt(2)
    change = second.mmol_per_l - first.mmol_per_l
    return Measure(change, change - half, change + half, "mmol/L")


def _change(before: Sequence[LactateSample], last: LactateSample) -> Measure:
    if not before:
        return unknown("mmol/L", "no sample in the ten minutes before the bout")
    return _step(before[-1], last)


def _mlss_rise(timed: Sequence[LactateSample], bout: Bout) -> Measure:
    unit = "mmol/L/min"
    early = _nearest(timed, bout.start_s + MLSS_FROM_S)
    late = _nearest(timed, bout.start_s + MLSS_TO_S)
    if early is None or late is None or bout.duration_s < MLSS_TO_S - _CLOCK_TOLERANCE_S:
        return unknown(unit, "needs 30 minutes of constant work with samples at minutes 10 and 30")
    change = _step(early, late)
    if change.value is None or change.low is None or change.high is None:
        return unknown(unit, change.reason)
    minutes = (_time(late) - _time(early)) / 60
    return Measure(change.value / minutes, change.low / minutes, change.high / minutes, unit)


def _nearest(timed: Sequence[LactateSample], t_s: float) -> LactateSample | None:
    near = [s for s in timed if abs(_time(s) - t_s) <= _CLOCK_TOLERANCE_S]
    return min(near, key=lambda s: abs(_time(s) - t_s), default=None)
