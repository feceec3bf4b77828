"""How far a muscle has refilled in a recovery, told while it happens.

The half-recovery time is the time from the end of work until SmO2 has come half way back from its
lowest value to the resting baseline. It stands a lone reading better than a fitted time constant,
whose repeatability is poor. Afterwards, analyse/ measures it again with the whole recovery known.
"""

from dataclasses import dataclass

from livemon.monitor.plan import duration_words


@dataclass(frozen=True, slots=True)
class Refill:
    """A recovery at one moment.

    Attributes:
        of_baseline_pct: SmO2 now in % of baseline; can exceed 100, as muscles overshoot.
        after_s: since the recovery began.
        half_recovery_s: when it was half way back; None until then.
    """

    of_baseline_pct: float
    after_s: float
    half_recovery_s: float | None

    def words(self) -> str:
        """Return it as a sentence: "refilled to 92 % of baseline after 48 s"."""
        after = duration_words(self.after_s)
        return f"refilled to {self.of_baseline_pct:.0f} % of baseline after {after}"


class RefillWatch:
    """Watches one muscle through one recovery, begun at `began_s`.

    Args:
        baseline_pct: resting SmO2, above 0.
    """

    __slots__ = ("_baseline_pct", "_began_s", "_half_s", "_low_pct")

    def __init__(self, baseline_pct: float, began_s: float) -> None:
        self._baseline_pct = baseline_pct
        self._began_s = began_s
        self._low_pct: float | None = None
        self._half_s: float | None = None

    def update(self, t_s: float, smo2_pct: float) -> Refill:
        """Take one reading; return how far the muscle is."""
        if self._low_pct is None or smo2_pct < self._low_pct:
            self._low_pct, self._half_s = smo2_pct, None  # it still falls: the way back is anew
        half_pct = (self._low_pct + self._baseline_pct) / 2
        # A muscle that never fell below its baseline has no way back to measure.
        if self._half_s is None and self._low_pct < half_pct <= smo2_pct:
            self._half_s = t_s - self._began_s
        return Refill(100 * smo2_pct / self._baseline_pct, t_s - self._began_s, self._half_s)
