"""All that one site tells about one bout."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from livemon.analyse.baseline import Baseline, find_baseline
from livemon.analyse.bins import bin_means
from livemon.analyse.blood_volume import BloodVolume, judge_blood_volume
from livemon.analyse.bout import Bout
from livemon.analyse.correlated import Noise, fit_correlated_line
from livemon.analyse.depth import Depth, judge_depth
from livemon.analyse.late import Late, late_figures, late_of_muscle
from livemon.analyse.measure import Measure, around, difference, unknown
from livemon.analyse.onset import Onset, fit_onset
from livemon.analyse.recovery import Recovery, judge_recovery
from livemon.analyse.series import Series
from livemon.analyse.windows import ENOUGH_COVERED, Window, after, before, late_part
from livemon.analyse.word import Word, balance_word

_LAST_S: Final = 30.0


@dataclass(frozen=True, slots=True)
class MuscleBout:
    """One site in one bout.

    Attributes:
        end_level: mean of the last half minute.
        blood_volume: None where the sensor gives no tHb.
    """

    site: str
    baseline: Baseline
    late: Late
    depth: Depth
    end_level: Measure
    blood_volume: BloodVolume | None
    onset: Onset
    recovery: Recovery
    word: Word


def judge_muscle(
    site: str,
    smo2: Series,
    thb: Series | None,
    bout: Bout,
    bouts: Sequence[Bout],
    *,
    resting: Window | None,
    level_pct: float | None,
    own_low_pct: float | None,
) -> MuscleBout:
    """Gather one site's figures for one bout.

    Args:
        site: the muscle, in the coach's words.
        smo2: its SmO2, %.
        thb: its total haemoglobin; None where the sensor gives none.
        bout: the bout to judge.
        bouts: all bouts of the recording, to know what came before and after.
        resting: where the session's resting baseline was taken.
        level_pct: the SmO2 level to count time under.
        own_low_pct: the athlete's low at this placement, where it could fall no further; a level
            that was passed while still falling is not one.
    """
    late = late_of_muscle(smo2, late_part(bout), "%")
    noise = late.fit.noise if late.fit else _noise_at_rest(smo2, bout, bouts, resting)
    baseline = find_baseline(smo2, bout, bouts, resting, noise, "%")
    depth = judge_depth(smo2, bout, baseline.level, noise, level_pct)
    end_level = _end_level(smo2, bout, noise)
    return MuscleBout(
        site,
        baseline,
        late,
        depth,
        end_level,
        _blood_volume(thb, bout, baseline, difference(late.level, baseline.level)),
        fit_onset(smo2, bout),
        judge_recovery(smo2, after(bout, bouts), baseline.level, noise),
        balance_word(late.slope, depth.drop, depth.nadir, end_level, own_low_pct),
    )


def _noise_at_rest(
    smo2: Series, bout: Bout, bouts: Sequence[Bout], resting: Window | None
) -> Noise | None:
    """Take the noise of a rest when the bout is too short to show its own."""
    for window in (before(bout, bouts), resting):
        if window is None or smo2.covered(window.start_s, window.end_s) < ENOUGH_COVERED:
            continue
        fit = fit_correlated_line(bin_means(smo2, window.start_s, window.end_s))
        if fit is not None:
            return fit.noise
    return None


def _end_level(smo2: Series, bout: Bout, noise: Noise | None) -> Measure:
    start_s = max(bout.start_s, bout.end_s - _LAST_S)
    if noise is None or smo2.covered(start_s, bout.end_s) < ENOUGH_COVERED:
        return unknown("%", "too few samples at the end of the bout")
    bins = bin_means(smo2, start_s, bout.end_s)
    if len(bins) == 0:
        return unknown("%", "the bout is too short")
    mean = float(bins.values.mean())
    return around(mean, noise.error_of_mean(len(bins)), noise.degrees, "%")


def _blood_volume(
    thb: Series | None, bout: Bout, baseline: Baseline, smo2_change: Measure
) -> BloodVolume | None:
    if thb is None or len(thb) == 0:
        return None
    late = late_figures(thb, late_part(bout), "")
    if late.fit is None or baseline.window is None:
        missing = unknown("", late.level.reason or baseline.level.reason)
        return judge_blood_volume(missing, late.level, smo2_change)
    window = baseline.window
    if thb.covered(window.start_s, window.end_s) < ENOUGH_COVERED:
        missing = unknown("", "tHb is missing before the bout")
        return judge_blood_volume(missing, late.level, smo2_change)
    bins = bin_means(thb, window.start_s, window.end_s)
    noise = late.fit.noise
    level = around(float(bins.values.mean()), noise.error_of_mean(len(bins)), noise.degrees, "")
    return judge_blood_volume(level, late.level, smo2_change)
