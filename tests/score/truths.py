"""Hand-made truths for the tests of the scoring."""

import numpy as np

from livemon.score.event import Verdicts, verdicts
from livemon.synthetic.body import Bools, Floats, SiteTruth, Truth

STEP_S = 0.1


def pieces(*spans: tuple[float, float]) -> Floats:
    """Return values that hold for (seconds, value) each."""
    return np.concatenate([np.full(round(s / STEP_S), float(v)) for s, v in spans])


def made(
    drift: Floats,
    onset: Floats | None = None,
    left: Floats | None = None,
    bpm_per_min: Floats | None = None,
    working: Bools | None = None,
) -> Truth:
    """Return a truth with this drift, onset slope, heart rate slope; at work throughout."""
    n = len(drift)
    zeros = np.zeros(n)
    onset = zeros if onset is None else onset
    site = SiteTruth(
        site="thigh",
        low_pct=15.0,
        smo2_pct=60 + np.cumsum(drift + onset) * STEP_S / 60,
        thb=np.full(n, 12.0),
        slope_pct_per_min=drift + onset,
        drift_pct_per_min=drift,
        onset_left=zeros if left is None else left,
    )
    return Truth(
        t_s=np.arange(n) * STEP_S,
        working=np.ones(n, dtype=bool) if working is None else working,
        heart_rate_bpm=np.full(n, 150.0),
        heart_rate_bpm_per_min=zeros if bpm_per_min is None else bpm_per_min,
        sites=(site,),
        phase_starts_s=(0.0,),
    )


def judged(true: Truth, observable: Bools | None = None) -> Verdicts:
    """Return the verdicts on the one site of `true`."""
    seen = np.ones(len(true.t_s), dtype=bool) if observable is None else observable
    return verdicts(true, true.sites[0], seen)
