"""Three invented training sessions, for the demo, the fixtures and the simulated radio.

One athlete, a strap and two oximeters: on the left thigh, which works, and on the right forearm,
which mostly rests. All bouts are done at one heart rate, so that nothing but the muscle tells them
apart. Kinds of work, bodies and numbers are invented; the shapes come from `script`.
"""

from dataclasses import dataclass, field
from typing import Final

from livemon.synthetic.oximeter import Oximeter
from livemon.synthetic.radio import Radio
from livemon.synthetic.script import Body, Muscle, Phase, SitePhase, ramp
from livemon.synthetic.strap import Strap

_BAND_BPM: Final = (142, 154)
_WORK_BPM: Final = 148.0
_EASY_BPM: Final = 104.0
_BODY: Final = Body(
    muscles=(
        Muscle("left thigh", rest_pct=68.0, low_pct=24.0, rest_thb=12.4),
        Muscle("right forearm", rest_pct=72.0, low_pct=30.0, rest_thb=11.8),
    ),
    rest_bpm=68.0,
    on_tau_s=28.0,
    off_tau_s=42.0,
)
_FOREARM: Final = SitePhase(level_pct=70.0, tau_s=25.0)


@dataclass(frozen=True, slots=True)
class Trouble:
    """What goes wrong beside the readings themselves: in the radio and its bytes.

    Attributes:
        link_lost: (sensor, from, to) in seconds: the link drops and comes back.
        cut_share: share of packets that arrive cut short.
    """

    link_lost: tuple[tuple[str, float, float], ...] = ()
    cut_share: float = 0.0


@dataclass(frozen=True, slots=True)
class Training:
    """A session to be simulated."""

    name: str
    what: str  #: one sentence for people
    phases: tuple[Phase, ...]
    strap: Strap
    oximeters: tuple[Oximeter, ...]  #: one for each muscle of `body`
    body: Body = _BODY
    band_bpm: tuple[int, int] = _BAND_BPM
    trouble: Trouble = field(default_factory=Trouble)


def _rest(seconds: float) -> Phase:
    return Phase("rest", False, seconds, 74.0, (SitePhase(68.0), SitePhase(72.0)))


def _recovery(seconds: float) -> Phase:
    """The thigh overshoots its resting level for a while, as it does after work."""
    thigh = SitePhase(74.0, delay_s=4.0, tau_s=18.0, slow_pct=-5.0, slow_delay_s=60.0)
    return Phase("recovery", False, seconds, _EASY_BPM, (thigh, SitePhase(72.0)))


def _bout(kind: str, seconds: float, thigh: SitePhase, forearm: SitePhase = _FOREARM) -> Phase:
    return Phase(kind, True, seconds, _WORK_BPM, (thigh, forearm), drift_bpm_per_min=0.3)


_REFILLS: Final = _bout(
    "rowing", 240.0, SitePhase(52.0, tau_s=12.0, slow_pct=12.0, slow_delay_s=45.0, slow_tau_s=50.0)
)
_HOLDS: Final = _bout("step-ups", 240.0, SitePhase(51.0, tau_s=14.0, thb_pct=-0.5))
_HOLDS_DEEPER: Final = _bout(
    "sled push", 240.0, SitePhase(37.0, tau_s=16.0, thb_pct=-1.0), SitePhase(66.0, tau_s=20.0)
)
_DRAINS: Final = _bout(
    "sled push, heavier",
    240.0,
    SitePhase(48.0, tau_s=14.0, legs=ramp(-6.0, after_s=95.0), thb_pct=-1.5),
    SitePhase(66.0, tau_s=20.0),
)

_THREE_BOUTS: Final = (
    _rest(60.0),
    _REFILLS,
    _recovery(100.0),
    _HOLDS,
    _recovery(100.0),
    _HOLDS_DEEPER,
    _recovery(100.0),
)
_GOOD_KIT: Final = (Oximeter(rate_hz=2.0), Oximeter(rate_hz=1.0, ripple_sd=0.1))

IN_BALANCE: Final = Training(
    "in-balance",
    "Three kinds of work at one heart rate: the thigh refills, holds, and holds deeper.",
    _THREE_BOUTS,
    Strap(),
    _GOOD_KIT,
)
OVER_THE_LINE: Final = Training(
    "over-the-line",
    "The same, and a fourth bout paced over the line: the thigh keeps falling.",
    (*_THREE_BOUTS, _DRAINS, _recovery(80.0)),
    Strap(),
    _GOOD_KIT,
)
TROUBLE: Final = Training(
    "trouble",
    "The three bouts again with bad contact, a slipped sensor, lost links and broken packets.",
    _THREE_BOUTS,
    Strap(
        silent=((180.0, 195.0),),
        locked=((500.0, 512.0),),
        wild_per_min=1.0,
        radio=Radio(twice_share=0.03, lost_share=0.02),
    ),
    (
        Oximeter(
            rate_hz=2.0,
            spikes_per_min=1.0,
            bursts=((600.0, 606.0),),
            slips=((240.0, -7.0), (870.0, 6.0)),
            no_contact=((140.0, 150.0), (850.0, 862.0)),
            radio=Radio(batch_s=1.0, twice_share=0.04, lost_share=0.03),
        ),
        Oximeter(
            rate_hz=1.0,
            no_contact=((400.0, 425.0),),
            radio=Radio(twice_share=0.02, gaps=((700.0, 716.0),)),
        ),
    ),
    trouble=Trouble(link_lost=(("thigh", 700.0, 712.0), ("strap", 300.0, 306.0)), cut_share=0.02),
)

#: By name, in the order in which they are best watched.
TRAININGS: Final = {t.name: t for t in (IN_BALANCE, OVER_THE_LINE, TROUBLE)}
