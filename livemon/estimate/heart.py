"""Does heart rate hold steady? Judged on one-second values, against artefacts and dropouts.

A strap's artefacts are of three kinds: single wild readings, a lock on the cadence (a sudden
step to another level that holds), and silence. A heart can't step, so a value far from the recent
middle is held back until it has lasted; until then nothing is decided.
"""

from typing import Final

from livemon.estimate.contrasts import Contrasts, line
from livemon.estimate.noise import Noise
from livemon.estimate.steadiness import Steadiness
from livemon.series.bins import Seconds

_WINDOWS_S: Final = (12, 18, 25, 40, 60)
_LINES: Final = Contrasts([line(w) for w in _WINDOWS_S])

#: A slope that is still steady. Drift at constant load is 0.2-0.5 bpm/min (Teso 2022, MSSE 54:655);
#: what counts as steady here is below 3 bpm/min.
_STEADY_BPM_PER_MIN: Final = 3.0
_MOVING_SE: Final = 1.2  #: standard errors that a slope must lie beyond it to count as moving
_DECIDES_AT: Final = 2  #: index in _WINDOWS_S of the shortest window that can show steadiness
_UNDECIDABLE_SE: Final = 6.0  #: bpm/min; noise beyond it hides any load change

#: bpm that neighbouring seconds may differ. Even at the onset of all-out work heart rate rises by
#: no more than about 3 bpm/s (from memory).
_JUMP_BPM: Final = 8.0
_CONFIRM_S: Final = 20  #: seconds after which a new level is believed: a strap put right again
_KEEP_AT_MARK_S: Final = 8
_SILENT_S: Final = 6  #: seconds without a value after which nothing can be said


class HeartSteadiness:
    """Heart rate's drift and steadiness; `update` once a second."""

    __slots__ = (
        "_doubt_s",
        "_errors",
        "_noise",
        "_seconds",
        "drift_bpm_per_min",
        "state",
        "steady_for_s",
    )

    def __init__(self) -> None:
        self._seconds = Seconds()
        self._noise = Noise(typical_sd=1.2, floor_sd=0.4, wander_sd=0.5, wander_s=15.0)
        self._errors = _LINES.errors(self._noise.semivariogram)
        self._doubt_s = 0
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
            far = abs(bpm - seconds.newest) > _JUMP_BPM + seconds.empty_s
            if far:
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
            if self._noise.update(seconds.window(), seconds.length):
                self._errors = _LINES.errors(self._noise.semivariogram)
        self._decide()

    def _decide(self) -> None:
        seconds = self._seconds
        if seconds.empty_s >= _SILENT_S or seconds.length < _WINDOWS_S[_DECIDES_AT]:
            self.state, self.drift_bpm_per_min, self.steady_for_s = Steadiness.UNDECIDABLE, None, 0
            return
        slopes = _LINES.values(seconds.window())
        errors = self._errors
        self.drift_bpm_per_min = slopes[_DECIDES_AT]
        for i, window_s in enumerate(_WINDOWS_S):
            if window_s > seconds.length:
                break
            if abs(slopes[i]) > _STEADY_BPM_PER_MIN + _MOVING_SE * errors[i]:
                self.state, self.steady_for_s = Steadiness.MOVING, 0
                return
        if errors[_DECIDES_AT] > _UNDECIDABLE_SE:
            self.state, self.steady_for_s = Steadiness.UNDECIDABLE, 0
            return
        self.state = Steadiness.STEADY
        self.steady_for_s += 1
