"""When a warning is heard, and what is heard."""

import io
import wave
from dataclasses import replace

import numpy as np
import pytest
import scenes

from livemon.view.chime import HIGH_HZ, LOW_HZ, RATE_HZ, chime
from livemon.view.conduct import NOTHING_YET, Conduct, acknowledge, observe, set_aside
from livemon.view.sounding import Sounding
from livemon.warn.priority import Priority


def calling(priority: Priority) -> Conduct:
    return observe(NOTHING_YET, [scenes.lane(scenes.falling(priority=priority))], scenes.NOW_S)


def heard(conducts: list[tuple[float, Conduct]]) -> list[tuple[float, Priority]]:
    state, found = Sounding(), []
    for now_s, conduct in conducts:
        state, priority = state.next(conduct, now_s)
        if priority is not None:
            found.append((now_s, priority))
    return found


def test_heard_as_it_begins_and_again_while_nobody_has_seen_it() -> None:
    drain = calling(Priority.DRAIN)

    assert heard([(float(t), drain) for t in range(46)]) == [
        (0.0, Priority.DRAIN), (15.0, Priority.DRAIN), (30.0, Priority.DRAIN),
        (45.0, Priority.DRAIN),
    ]  # fmt: skip


def test_silent_once_seen_or_set_aside() -> None:
    drain = calling(Priority.DRAIN)

    assert heard([(0.0, acknowledge(drain, "a3", 0)), (60.0, set_aside(drain, "a3", None))]) == []


def test_worse_is_heard_at_once_and_easing_is_not() -> None:
    caution, drain = calling(Priority.CAUTION), calling(Priority.DRAIN)

    assert heard([(0.0, caution), (1.0, drain), (2.0, caution)]) == [
        (0.0, Priority.CAUTION), (1.0, Priority.DRAIN),
    ]  # fmt: skip


def test_in_a_flood_cautions_are_silent() -> None:
    flood = replace(NOTHING_YET.flood, on=True)

    assert heard([(0.0, replace(calling(Priority.CAUTION), flood=flood))]) == []


def samples(priority: Priority) -> np.ndarray:
    with wave.open(io.BytesIO(chime(priority))) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE_HZ)
        return np.frombuffer(file.readframes(file.getnframes()), dtype=np.int16)


@pytest.mark.parametrize("priority", [Priority.CAUTION, Priority.DRAIN])
def test_a_chime_is_short_falls_and_never_clips(priority: Priority) -> None:
    sound = samples(priority)

    assert 0.2 < sound.size / RATE_HZ < 1.5
    assert 8_000 < np.abs(sound.astype(int)).max() < 32_767
    assert HIGH_HZ > LOW_HZ


def test_a_note_has_four_peaks_that_carry_through_noise() -> None:
    """Peaks between 150 and 4000 Hz within 15 dB of each other, one of them below 1000 Hz."""
    note = samples(Priority.CAUTION)[: int(0.18 * RATE_HZ)]
    spectrum = np.abs(np.fft.rfft(note * np.hanning(note.size)))
    frequencies = np.fft.rfftfreq(note.size, 1 / RATE_HZ)
    peaks = [spectrum[np.abs(frequencies - HIGH_HZ * n) < 20].max() for n in range(1, 6)]
    near = [20 * np.log10(peak / max(peaks)) > -15 for peak in peaks]

    assert sum(near) >= 4
    assert 150 < HIGH_HZ < 1000
    assert HIGH_HZ * 5 < 4000


def test_information_makes_no_sound() -> None:
    assert samples(Priority.INFORMATION).size == 0
