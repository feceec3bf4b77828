"""When a warning is heard, and what is heard."""

import io
import wave
from dataclasses import replace

import numpy as np
import pytest
import scenes

from livemon.view.chime import HIGH_HZ, LOW_HZ, RATE_HZ, chime
from livemon.view.conduct import NOTHING_YET, Conduct, acknowledge, observe, set_aside
from livemon.view.cue import CUE_OF, Cue
from livemon.view.sound_words import sound_words
from livemon.view.sounding import Sounding
from livemon.view.spoken_warning import spoken_warning
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


def samples(cue: Cue) -> np.ndarray:
    with wave.open(io.BytesIO(chime(cue))) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE_HZ)
        return np.frombuffer(file.readframes(file.getnframes()), dtype=np.int16)


@pytest.mark.parametrize("cue", Cue)
def test_a_chime_is_short_and_never_clips(cue: Cue) -> None:
    sound = samples(cue)

    assert 0.2 < sound.size / RATE_HZ < 1.5
    assert 8_000 < np.abs(sound.astype(int)).max() < 32_767
    assert HIGH_HZ > LOW_HZ


def test_a_note_has_four_peaks_that_carry_through_noise() -> None:
    """Peaks between 150 and 4000 Hz within 15 dB of each other, one of them below 1000 Hz."""
    note = samples(Cue.CAUTION)[: int(0.18 * RATE_HZ)]
    spectrum = np.abs(np.fft.rfft(note * np.hanning(note.size)))
    frequencies = np.fft.rfftfreq(note.size, 1 / RATE_HZ)
    peaks = [spectrum[np.abs(frequencies - HIGH_HZ * n) < 20].max() for n in range(1, 6)]
    near = [20 * np.log10(peak / max(peaks)) > -15 for peak in peaks]

    assert sum(near) >= 4
    assert 150 < HIGH_HZ < 1000
    assert HIGH_HZ * 5 < 4000


def pitch_hz(sound: np.ndarray) -> float:
    spectrum = np.abs(np.fft.rfft(sound * np.hanning(sound.size)))
    return float(np.argmax(spectrum)) * RATE_HZ / sound.size


@pytest.mark.parametrize(("cue", "rises"), [(Cue.CAUTION, False), (Cue.STEP, True)])
def test_a_warning_is_heard_to_fall_and_a_step_to_rise(cue: Cue, rises: bool) -> None:
    sound = samples(cue)
    first, last = pitch_hz(sound[: RATE_HZ // 12]), pitch_hz(sound[-RATE_HZ // 10 :])

    assert (last > first) is rises


def test_a_muted_lane_is_not_heard_and_others_are() -> None:
    drain = calling(Priority.DRAIN)

    assert Sounding().next(drain, 0.0, frozenset({"a3"}))[1] is None
    assert Sounding().next(drain, 0.0, frozenset({"a4"}))[1] is Priority.DRAIN


def test_information_is_never_heard() -> None:
    assert set(CUE_OF) == set(Priority) - {Priority.INFORMATION}


def test_a_warning_is_spoken_with_the_name_only_where_there_are_several() -> None:
    lane = scenes.lane(scenes.falling())
    conduct = observe(NOTHING_YET, [lane], scenes.NOW_S)

    assert spoken_warning(conduct, (lane,), frozenset()) == "left thigh keeps falling."
    other = replace(lane, athlete="a4", name="Lane 4")
    assert (
        spoken_warning(conduct, (lane, other), frozenset()) == "Lane 3: left thigh keeps falling."
    )
    assert spoken_warning(conduct, (lane,), frozenset({"a3"})) == ""
    assert spoken_warning(acknowledge(conduct, "a3", 0), (lane,), frozenset()) == ""


@pytest.mark.parametrize(
    ("muted", "here", "words"),
    [
        ((), None, "sound on"),
        ((3,), None, "sound on, lane 3 muted"),
        ((1, 3), None, "sound on, lanes 1, 3 muted"),
        ((1, 2, 3, 4, 5), None, "sound on, 5 lanes muted"),
        ((1, 3), 3, "sound on, muted here"),
        ((1, 3), 2, "sound on"),
    ],
)
def test_what_is_muted_is_always_said(muted: tuple[int, ...], here: int | None, words: str) -> None:
    assert sound_words(True, muted, here) == words
    assert sound_words(False, muted, here) == "sound off"
