"""Short sounds, made by arithmetic: own patterns, no melody of any device.

A falling pair of notes for a caution, the same pair three times and quicker for a drain: what
falls is heard to fall. A plan's step is one rising pair, so that nobody takes it for a warning.
Each note has five harmonics between 300 and 3300 Hz within 15 dB of each other, which is the common
way to be heard in noise (IEC 60601-1-8 asks for at least four such peaks between 150 and 4000 Hz;
no conformity is claimed).
"""

import io
import math
import wave
from array import array
from typing import Final

from livemon.view.cue import Cue

RATE_HZ: Final = 22_050
HIGH_HZ: Final = 660.0
LOW_HZ: Final = 495.0  #: a fourth below
_HARMONICS: Final = 5
_FADE_S: Final = 0.012  # without it each note would click
_LOUDNESS: Final = 0.6

#: (frequency in Hz, seconds), 0 Hz is silence.
_NOTES: Final = {
    Cue.CAUTION: ((HIGH_HZ, 0.18), (0.0, 0.05), (LOW_HZ, 0.20)),
    Cue.DRAIN: ((HIGH_HZ, 0.12), (0.0, 0.03), (LOW_HZ, 0.13), (0.0, 0.12)) * 3,
    Cue.STEP: ((LOW_HZ, 0.09), (0.0, 0.03), (HIGH_HZ, 0.16)),
}


def chime(cue: Cue) -> bytes:
    """Return the sound of a cue as a WAV file: mono, 16 bits."""
    samples = array("h")
    for frequency_hz, seconds in _NOTES[cue]:
        samples.extend(_note(frequency_hz, seconds))
    buffer = io.BytesIO()
    with wave.open(buffer, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE_HZ)
        file.writeframes(samples.tobytes())
    return buffer.getvalue()


def _note(frequency_hz: float, seconds: float) -> list[int]:
    count = int(seconds * RATE_HZ)
    if frequency_hz == 0.0:
        return [0] * count
    return [_sample(frequency_hz, i / RATE_HZ, seconds) for i in range(count)]


def _sample(frequency_hz: float, t_s: float, length_s: float) -> int:
    edge = min(t_s, length_s - t_s, _FADE_S) / _FADE_S
    fade = (1 - math.cos(math.pi * edge)) / 2
    partials = (
        math.sin(2 * math.pi * frequency_hz * n * t_s) / math.sqrt(n)
        for n in range(1, _HARMONICS + 1)
    )
    return round(32_767 * _LOUDNESS * fade * sum(partials) / _HARMONICS)
