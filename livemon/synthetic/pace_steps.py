"""An invented session of one kind of work at four speeds, to find the pace that holds in.

SmO2's late slope falls on a straight line with speed and crosses zero at `HOLDS_M_PER_S`; the
shape is that of Kirby et al. 2021 (J Appl Physiol 130:1915), the numbers are made up.
"""

from typing import Final

from livemon.synthetic.script import Phase, SitePhase, ramp
from livemon.synthetic.sessions import IN_BALANCE, Training

HOLDS_M_PER_S: Final = 3.6
_PCT_PER_MIN_PER_M_PER_S: Final = -5.0
_SPEEDS_M_PER_S: Final = (3.3, 3.5, 3.7, 3.9)
_BOUT_S: Final = 300.0
_REST_S: Final = 120.0
_FOREARM: Final = SitePhase(69.0, tau_s=25.0)


def _bout(speed_m_per_s: float) -> Phase:
    slope = _PCT_PER_MIN_PER_M_PER_S * (speed_m_per_s - HOLDS_M_PER_S)
    thigh = SitePhase(50.0, tau_s=12.0, legs=ramp(slope, after_s=60.0), thb_pct=-0.5)
    return Phase("rowing", True, _BOUT_S, 148.0, (thigh, _FOREARM), 0.3, speed_m_per_s)


def _recovery() -> Phase:
    thigh = SitePhase(70.0, delay_s=4.0, tau_s=18.0)
    return Phase("recovery", False, _REST_S, 104.0, (thigh, SitePhase(72.0)))


PACE_STEPS: Final = Training(
    "pace-steps",
    "One kind of work at four speeds: up to one of them the thigh holds, beyond it drains.",
    (_recovery(), *(phase for speed in _SPEEDS_M_PER_S for phase in (_bout(speed), _recovery()))),
    IN_BALANCE.strap,
    IN_BALANCE.oximeters,
)
