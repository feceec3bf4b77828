"""An invented foot sensor or rowing machine: how fast its athlete goes, and the bytes that say so.

The pace is the script's, met a little unevenly and not from the first second on. No such devices
exist.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from struct import pack
from typing import Final

import numpy as np
from numpy.random import Generator

from livemon.decode.machine_fields import ROWER
from livemon.decode.running import RSC_MEASUREMENT
from livemon.synthetic.noise import Floats
from livemon.synthetic.script import Phase

#: What a bout is done at whose script says no speed. Invented.
_USUAL_M_PER_S: Final = 3.0
_SETTLES_S: Final = 4.0  #: time constant of coming up to speed, and of stopping
_UNEVEN: Final = 0.015  #: standard deviation of the speed from second to second, as a share of it
_STANDS_M_PER_S: Final = 0.3  #: below this nobody is under way

_STEPS_PER_M: Final = 0.9
_STROKES_PER_MIN: Final = 26.0
#: Power rises with the cube of speed on water; the factor is invented.
_W_PER_M3_S3: Final = 3.0

# RSC Measurement, flags: total distance is there. GATT Specification Supplement, "RSC Measurement".
_RSC_DISTANCE: Final = 1 << 1
# Rower Data, flags: distance, pace, power. GATT Specification Supplement, "Rower Data".
_ROWER_FLAGS: Final = 1 << 2 | 1 << 3 | 1 << 5


class Device(Enum):
    """What measures the work; the value is its name on the command line."""

    FOOT = "foot"
    ROWER = "rower"


@dataclass(frozen=True, slots=True)
class EffortPacket:
    """One notification."""

    t_s: float
    characteristic: str
    payload: bytes


def effort_packets(rng: Generator, phases: tuple[Phase, ...], device: Device) -> list[EffortPacket]:
    """Return what the device sends: a packet a second from its first to its last."""
    speed = speeds_m_per_s(rng, phases)
    distance = np.cumsum(speed)
    said: Iterator[tuple[str, bytes]]
    if device is Device.FOOT:
        said = ((RSC_MEASUREMENT, _foot(*at)) for at in zip(speed, distance, strict=True))
    else:
        said = ((ROWER.characteristic, _rower(*at)) for at in zip(speed, distance, strict=True))
    return [
        EffortPacket(second + 1.0, characteristic, payload)
        for second, (characteristic, payload) in enumerate(said)
    ]


def speeds_m_per_s(rng: Generator, phases: tuple[Phase, ...]) -> Floats:
    """Return the speed at each whole second."""
    edges = np.concatenate(([0.0], np.cumsum([phase.seconds for phase in phases])))
    speed = np.zeros(round(edges[-1]))
    now = 0.0
    for phase, (begin_s, end_s) in zip(phases, pairwise(edges), strict=True):
        aim = (phase.speed_m_per_s or _USUAL_M_PER_S) if phase.working else 0.0
        since_s = np.arange(round(end_s) - round(begin_s)) + 1.0
        smooth = aim + (now - aim) * np.exp(-since_s / _SETTLES_S)
        speed[round(begin_s) : round(end_s)] = smooth
        now = float(smooth[-1])
    speed *= 1 + rng.normal(0.0, _UNEVEN, len(speed))
    return np.where(speed < _STANDS_M_PER_S, 0.0, speed)


def _foot(speed: float, distance_m: float) -> bytes:
    cadence = round(speed * _STEPS_PER_M * 60)
    return pack("<BHBI", _RSC_DISTANCE, round(speed * 256), cadence, round(distance_m * 10))


def _rower(speed: float, distance_m: float) -> bytes:
    moves = speed > 0
    strokes = round(_STROKES_PER_MIN * 2) if moves else 0
    pace = round(500 / speed) if moves else 0
    power = round(_W_PER_M3_S3 * speed**3)
    total = round(distance_m).to_bytes(3, "little")
    return pack("<HBH", _ROWER_FLAGS, strokes, 0) + total + pack("<Hh", pace, power)
