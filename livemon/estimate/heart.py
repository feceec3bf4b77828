"""Does heart rate hold steady? Judged on one-second values, against artefacts and dropouts.

A change of load makes heart rate approach a new level with a time constant of 30-60 s (Hunt 2015,
Biomed Eng Online, PMC4687158; Yoshida & Whipp 1994, J Physiol). So the question put to the data
is not "what is the slope over a window", which real hearts answer with noise, but "since when,
if at all, has it been on its way to another level, and how fast does that way still lead".

A strap's artefacts are of three kinds: single wild readings, a lock on the cadence (a sudden
step to another level that holds), and silence. A heart can't step, so a value far from the last
one is held back, as if none had come; until the series has been silent so long that it begins
afresh, nothing is decided.
"""

from math import log
from typing import Final

import numpy as np

from livemon.estimate.easing import Easing
from livemon.estimate.noise import Noise
from livemon.estimate.pulse_shapes import (
    AGES_S,
    BACK_S,
    BEFORE_S,
    BEFORE_SHORT_S,
    FIRST_LINE,
    FIRST_TAIL,
    HEART,
    LINES_S,
    LONG_AGO_S,
    LOOKS,
    MEAN_S,
    SPEED_NOW,
    TAIL_SPEED,
    TAILS_S,
)  # fmt: skip
from livemon.estimate.steadiness import Steadiness
from livemon.series.bins import Seconds

#: What counts as steady is below 3 bpm/min; drift at constant load is 0.2-0.5 (Teso 2022, MSSE
#: 54:655).
_STEADY_BPM_PER_MIN: Final = 3.0
_SEEN_SE: Final = 2.5  #: standard errors from which on a way to another level is believed
_CERTAIN_SE: Final = 4.5  #: the same, to end a warning that is on
#: The same for a straight line, which any noise can look like for a while, and for the end of a
#: way, where waiting for certainty would cost more than half a minute.
_LINE_SE: Final = 2.0
_TAIL_SE: Final = 0.6
_FEWEST_S: Final = 28  #: seconds of heart rate without which nothing can be said
_UNDECIDABLE_SE: Final = 20.0  #: bpm/min over 25 s; noise beyond it hides any load change

#: bpm that neighbouring seconds may differ. Even at the onset of all-out work heart rate rises by
#: no more than about 3 bpm/s (from memory); beat-to-beat noise comes on top of it.
_JUMP_BPM: Final = 12.0
_KEEP_AT_MARK_S: Final = 8  #: seconds before a mark that belong to the load after it
_SILENT_S: Final = 6  #: seconds without a value after which nothing can be said

#: Size of a load change that matters, in bpm, and its spread: for weighing "changed" against not.
_CHANGE_BPM: Final = 13.0
_CHANGE_SD_BPM: Final = 6.0


class HeartSteadiness:
    """Heart rate's drift and steadiness; `update` once a second."""

    __slots__ = (
        "_doubt_s",
        "_easing",
        "_errors",
        "_evidence_se",
        "_noise",
        "_seconds",
        "_sizes",
        "drift_bpm_per_min",
        "state",
        "steady_for_s",
    )  # fmt: skip

    def __init__(self) -> None:
        self._seconds = Seconds()
        self._noise = Noise(typical_sd=2.0, floor_sd=0.4, wander_sd=0.5, wander_s=15.0)
        self._errors = HEART.errors(self._noise.semivariogram)
        self._sizes: list[float] = []
        self._doubt_s = 0
        self._evidence_se = 0.0
        self._easing = Easing()
        self.drift_bpm_per_min: float | None = None
        self.state = Steadiness.UNDECIDABLE
        self.steady_for_s = 0

    @property
    def bpm(self) -> float | None:
        """The last believed value."""
        return self._seconds.newest if self._seconds.length else None

    @property
    def eased(self) -> bool:
        """Is it well below what it was: has work eased or stopped?"""
        return self._easing.eased

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

    def load_changed(self) -> None:
        """A person said that the load changed: heart rate has to show anew that it is steady."""
        self._seconds.begin_afresh(_KEEP_AT_MARK_S)

    def restart(self) -> None:
        """Nobody was watching for a while."""
        self._seconds.begin_afresh()
        self._doubt_s = 0
        self._decide()

    def take_back(self, empty_s: int) -> None:
        """The last `empty_s` seconds, told as empty so far, are about to be told again."""
        self._seconds.take_back(empty_s)
        self.steady_for_s = max(self.steady_for_s - empty_s, 0)

    def update(self, bpm: float | None) -> None:
        """Take the value of the second that ended; None if there was none."""
        seconds = self._seconds
        far = _JUMP_BPM + seconds.empty_s
        if bpm is not None and seconds.length and abs(bpm - seconds.newest) > far:
            self._doubt_s += 1
            bpm = None
        if bpm is None:
            seconds.skip()
        else:
            self._doubt_s = 0
            seconds.append(bpm)
            if seconds.length >= MEAN_S:
                self._easing.update(float(seconds.window()[-MEAN_S:].sum()) / MEAN_S)
            if self._noise.update(seconds.window(), seconds.length):
                self._errors = HEART.errors(self._noise.semivariogram)
        self._decide()

    def change_log_odds(self, from_s: int, to_s: int) -> float:
        """Weigh "the load rose `from_s` to `to_s` seconds ago" against "it did not", in nats."""
        worst = -1e9
        for i, (age_s, _) in enumerate(LOOKS[: len(AGES_S)]):
            if not from_s <= age_s <= to_s:
                continue
            if age_s + BEFORE_S > self._seconds.length:
                i += len(AGES_S)
                if age_s + BEFORE_SHORT_S > self._seconds.length:
                    break  # older ones need even more
            size, error = abs(self._sizes[i]), self._errors[i]
            spread = error * error + _CHANGE_SD_BPM * _CHANGE_SD_BPM
            odds = (
                0.5 * log(error * error / spread)
                - (size - _CHANGE_BPM) ** 2 / (2.0 * spread)
                + size * size / (2.0 * error * error)
            )
            worst = max(worst, odds)
        return worst if worst > -1e9 else 0.0

    def evidence(self, long_ago_s: int, unknown: float) -> list[float]:
        """Return what heart rate has done, in the order of HEART_NAMES.

        Nothing is older than `long_ago_s`; `unknown` stands where the history is too short. Heart
        rate must not be undecidable.
        """
        length, sizes, errors = self._seconds.length, self._sizes, self._errors
        drift = self.drift_bpm_per_min
        assert drift is not None
        row = [min(self.steady_for_s, long_ago_s), self._evidence_se, drift, float(self.eased)]
        row.append(self.silent_s)
        for i, (age_s, before_s) in enumerate(LOOKS):
            row.append(sizes[i] / errors[i] if age_s + before_s <= length else unknown)
        line = sizes[FIRST_LINE]
        row += [line, line / errors[FIRST_LINE]]
        row.append(sizes[FIRST_LINE + 1] if length >= LINES_S[1] else unknown)
        tail, known = sizes[FIRST_TAIL], TAILS_S[0] <= length
        row += [tail * TAIL_SPEED, tail / errors[FIRST_TAIL]] if known else [unknown, unknown]
        sums = np.cumsum(self._seconds.window())
        now = float(sums[-1] - sums[-1 - MEAN_S])
        for back_s in BACK_S:
            if back_s + MEAN_S > length:
                row.append(unknown)
                continue
            then = float(sums[-1 - back_s] - sums[-1 - back_s - MEAN_S])
            row.append((now - then) / MEAN_S)
        return row

    def _decide(self) -> None:
        seconds = self._seconds
        if seconds.empty_s >= _SILENT_S or seconds.length < _FEWEST_S:
            self.state, self.drift_bpm_per_min, self.steady_for_s = Steadiness.UNDECIDABLE, None, 0
            return
        self._sizes = sizes = HEART.values(seconds.window())
        errors = self._errors
        self.drift_bpm_per_min = sizes[FIRST_LINE + (1 if seconds.length >= LINES_S[1] else 0)]
        if self._moves(sizes, errors, seconds.length):
            self.state, self.steady_for_s = Steadiness.MOVING, 0
        elif errors[FIRST_LINE] > _UNDECIDABLE_SE:
            self.state, self.steady_for_s = Steadiness.UNDECIDABLE, 0
        else:
            self.state = Steadiness.STEADY
            self.steady_for_s += 1

    def _moves(self, sizes: list[float], errors: list[float], length: int) -> bool:
        best, at = _SEEN_SE, -1
        for i, (age_s, before_s) in enumerate(LOOKS):
            if age_s + before_s > length:
                continue
            z = abs(sizes[i]) / errors[i]
            if z > best:
                best, at = z, i
        self._evidence_se = best
        if at >= 0 and LOOKS[at][0] < LONG_AGO_S:
            return abs(sizes[at]) * SPEED_NOW[at] > _STEADY_BPM_PER_MIN
        tail = FIRST_TAIL + (1 if length >= TAILS_S[1] else 0)
        speed, error = abs(sizes[tail]) * TAIL_SPEED, errors[tail] * TAIL_SPEED
        self._evidence_se = speed / error  # of what moves now, not of what once did
        if speed > _STEADY_BPM_PER_MIN + _TAIL_SE * error:
            return True
        line_at = FIRST_LINE
        return abs(sizes[line_at]) > _STEADY_BPM_PER_MIN + _LINE_SE * errors[line_at]
