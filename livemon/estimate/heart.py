"""Does heart rate hold steady? Judged on one-second values, against artefacts and dropouts.

A change of load makes heart rate approach a new level with a time constant of 30-60 s (Hunt 2015,
Biomed Eng Online, PMC4687158; Yoshida & Whipp 1994, J Physiol). So the question put to the data
is not "what is the slope over a window", which real hearts answer with noise, but "since when,
if at all, has it been on its way to another level, and how fast does that way still lead".

A strap's artefacts are of three kinds: single wild readings, a lock on the cadence (a sudden
step to another level that holds), and silence. A heart can't step, so a value far from the recent
middle is held back until it has lasted; until then nothing is decided.
"""

from math import exp, log
from typing import Final

import numpy as np

from livemon.estimate.contrasts import Contrasts, Weights, line, shape
from livemon.estimate.noise import Noise
from livemon.estimate.steadiness import Steadiness
from livemon.series.bins import Seconds

_TAU_S: Final = 42.0  #: time constant that is looked for; one of 28 or 60 s fits it well enough
#: Ages in seconds of load changes that are looked for, and the level before them.
_AGES_S: Final = (12, 16, 20, 25, 31, 38, 47, 58, 72, 90, 112, 135)
_BEFORE_S: Final = 40
_BEFORE_SHORT_S: Final = 15
_LINES_S: Final = (25, 40)
#: Windows that look at the end of a way: from long ago, most of it behind.
_TAILS_S: Final = (40, 60)
_LONG_AGO_S: Final = 55  #: age from which on a way's end is looked at by itself


def _approach(age_s: int, before_s: int) -> Weights:
    return np.array([0.0] * before_s + [1.0 - exp(-i / _TAU_S) for i in range(1, age_s + 1)])


def _tail(window_s: int) -> Weights:
    return np.array([exp(-i / _TAU_S) for i in range(-window_s + 1, 1)])


_LOOKS: Final = tuple(
    (age_s, before_s) for before_s in (_BEFORE_S, _BEFORE_SHORT_S) for age_s in _AGES_S
)
_HEART: Final = Contrasts(
    [
        *(shape(_approach(age_s, before_s)) for age_s, before_s in _LOOKS),
        *(line(window_s) for window_s in _LINES_S),
        *(shape(_tail(window_s)) for window_s in _TAILS_S),
    ]
)
_FIRST_LINE: Final = len(_LOOKS)
_FIRST_TAIL: Final = _FIRST_LINE + len(_LINES_S)
_SPEED_NOW: Final = tuple(exp(-age_s / _TAU_S) * 60.0 / _TAU_S for age_s, _ in _LOOKS)

#: What counts as steady is below 3 bpm/min; drift at constant load is 0.2-0.5 (Teso 2022, MSSE
#: 54:655).
_STEADY_BPM_PER_MIN: Final = 3.0
_SEEN_SE: Final = 2.5  #: standard errors from which on a way to another level is believed
_CERTAIN_SE: Final = 4.5  #: the same, to end a warning that is on
_LINE_SE: Final = 2.0
_TAIL_SE: Final = 0.6
_TAIL_SPEED: Final = 60.0 / _TAU_S  #: bpm/min now for each bpm of a tail's size
_FEWEST_S: Final = 28  #: seconds of heart rate without which nothing can be said
_UNDECIDABLE_SE: Final = 14.0  #: bpm/min over 25 s; noise beyond it hides any load change

#: bpm that neighbouring seconds may differ. Even at the onset of all-out work heart rate rises by
#: no more than about 3 bpm/s (from memory); beat-to-beat noise comes on top of it.
_JUMP_BPM: Final = 12.0
_CONFIRM_S: Final = 20  #: seconds after which a new level is believed: a strap put right again
_KEEP_AT_MARK_S: Final = 8
_SILENT_S: Final = 6  #: seconds without a value after which nothing can be said

#: Size of a load change that matters, in bpm, and its spread: for weighing "changed" against not.
_EASED_BPM: Final = 15.0  #: further down than drift, wander and a change of grip take it
_MEAN_S: Final = 10
_CHANGE_BPM: Final = 13.0
_CHANGE_SD_BPM: Final = 6.0


class HeartSteadiness:
    """Heart rate's drift and steadiness; `update` once a second."""

    __slots__ = (
        "_doubt_s",
        "_errors",
        "_evidence_se",
        "_highest",
        "_lowest",
        "_noise",
        "_seconds",
        "_sizes",
        "drift_bpm_per_min",
        "eased",
        "state",
        "steady_for_s",
    )  # fmt: skip

    def __init__(self) -> None:
        self._seconds = Seconds()
        self._noise = Noise(typical_sd=2.0, floor_sd=0.4, wander_sd=0.5, wander_s=15.0)
        self._errors = _HEART.errors(self._noise.semivariogram)
        self._sizes: list[float] = []
        self._doubt_s = 0
        self._evidence_se = 0.0
        self._highest = self._lowest = 0.0
        self.eased = False  #: well below what it was: work has eased or stopped
        self.drift_bpm_per_min: float | None = None
        self.state = Steadiness.UNDECIDABLE
        self.steady_for_s = 0

    @property
    def bpm(self) -> float | None:
        """The last believed value."""
        return self._seconds.newest if self._seconds.length else None

    @property
    def silent_s(self) -> int:
        """Seconds since the last believed value."""
        return self._seconds.empty_s

    @property
    def doubtful(self) -> bool:
        """Is a value far from the others being held back?"""
        return self._doubt_s > 0

    @property
    def certainly_moving(self) -> bool:
        """Is there so much evidence that a warning on display has to end?"""
        return self.state is Steadiness.MOVING and self._evidence_se > _CERTAIN_SE

    def load_changed(self, second: int) -> None:
        """A person said that the load changed: heart rate has to show anew that it is steady."""
        self._seconds.begin_afresh(_KEEP_AT_MARK_S)

    def restart(self) -> None:
        """Nobody was watching for a while."""
        self._seconds.begin_afresh()
        self._doubt_s = 0
        self._decide()

    def update(self, bpm: float | None) -> None:
        """Take the value of the second that ended; None if there was none."""
        seconds = self._seconds
        if bpm is not None and seconds.length:
            if abs(bpm - seconds.newest) > _JUMP_BPM + seconds.empty_s:
                self._doubt_s += 1
                if self._doubt_s < _CONFIRM_S:
                    bpm = None
                else:
                    seconds.begin_afresh()
            else:
                self._doubt_s = 0
        if bpm is None:
            seconds.skip()
        else:
            self._doubt_s = 0
            seconds.append(bpm)
            self._ease()
            if self._noise.update(seconds.window(), seconds.length):
                self._errors = _HEART.errors(self._noise.semivariogram)
        self._decide()

    def change_log_odds(self, from_s: int, to_s: int) -> float:
        """Weigh "the load rose `from_s` to `to_s` seconds ago" against "it did not", in nats."""
        worst = -1e9
        for i, (age_s, _) in enumerate(_LOOKS[: len(_AGES_S)]):
            if not from_s <= age_s <= to_s:
                continue
            if age_s + _BEFORE_S > self._seconds.length:
                i += len(_AGES_S)
                if age_s + _BEFORE_SHORT_S > self._seconds.length:
                    continue
            size, error = abs(self._sizes[i]), self._errors[i]
            spread = error * error + _CHANGE_SD_BPM * _CHANGE_SD_BPM
            odds = (
                0.5 * log(error * error / spread)
                - (size - _CHANGE_BPM) ** 2 / (2.0 * spread)
                + size * size / (2.0 * error * error)
            )
            worst = max(worst, odds)
        return worst if worst > -1e9 else 0.0

    def _decide(self) -> None:
        seconds = self._seconds
        if seconds.empty_s >= _SILENT_S or seconds.length < _FEWEST_S:
            self.state, self.drift_bpm_per_min, self.steady_for_s = Steadiness.UNDECIDABLE, None, 0
            return
        self._sizes = sizes = _HEART.values(seconds.window())
        errors = self._errors
        self.drift_bpm_per_min = sizes[_FIRST_LINE + (1 if seconds.length >= _LINES_S[1] else 0)]
        if self._moves(sizes, errors, seconds.length):
            self.state, self.steady_for_s = Steadiness.MOVING, 0
        elif errors[_FIRST_LINE] > _UNDECIDABLE_SE:
            self.state, self.steady_for_s = Steadiness.UNDECIDABLE, 0
        else:
            self.state = Steadiness.STEADY
            self.steady_for_s += 1

    def _ease(self) -> None:
        """Notice that work eases, and that it is taken up again."""
        if self._seconds.length < _MEAN_S:
            return
        mean = float(self._seconds.window()[-_MEAN_S:].sum()) / _MEAN_S
        self._highest = max(self._highest, mean)
        if self.eased:
            self._lowest = min(self._lowest, mean)
            if mean > self._lowest + _EASED_BPM:
                self.eased, self._highest = False, mean
        elif mean < self._highest - _EASED_BPM:
            self.eased, self._lowest = True, mean

    def _moves(self, sizes: list[float], errors: list[float], length: int) -> bool:
        best, at = _SEEN_SE, -1
        for i, (age_s, before_s) in enumerate(_LOOKS):
            if age_s + before_s > length:
                continue
            z = abs(sizes[i]) / errors[i]
            if z > best:
                best, at = z, i
        self._evidence_se = best
        if at >= 0 and _LOOKS[at][0] < _LONG_AGO_S:
            return abs(sizes[at]) * _SPEED_NOW[at] > _STEADY_BPM_PER_MIN
        tail = _FIRST_TAIL + (1 if length >= _TAILS_S[1] else 0)
        speed, error = abs(sizes[tail]) * _TAIL_SPEED, errors[tail] * _TAIL_SPEED
        if speed > _STEADY_BPM_PER_MIN + _TAIL_SE * error:
            return True
        line_at = _FIRST_LINE
        return abs(sizes[line_at]) > _STEADY_BPM_PER_MIN + _LINE_SE * errors[line_at]
