"""What people marked, as the analysis takes it: bouts, lactate, and the resting baseline."""

from typing import Final

from livemon.analyse.bout import Bout, Intensity, Origin
from livemon.analyse.lactate import LactateSample
from livemon.analyse.windows import Window
from livemon.monitor import bouts as marked
from livemon.monitor.bout_notes import BoutNotes, lactates_of, notes_of
from livemon.monitor.corrections import MarkBook
from livemon.monitor.mark_fields import MarkKind

_NS_PER_S: Final = 1e9


def bouts_from(book: MarkBook, athlete: str, end_ns: int, recording: str) -> tuple[Bout, ...]:
    """Return the bouts and rests of one athlete; what still goes on ends with the recording."""
    stretches = marked.bouts_of(book.standing, athlete)
    notes = notes_of(book, stretches, athlete)
    return tuple(
        _bout(one, notes[one.mark], end_ns, _band(book, athlete, one), recording)
        for one in stretches
    )


def lactate_from(book: MarkBook, athlete: str) -> tuple[LactateSample, ...]:
    """Return one athlete's lactate samples."""
    return tuple(
        LactateSample(sample.t_ns / _NS_PER_S, sample.mmol_l, sample.sampling_site)
        for sample in lactates_of(book.standing, athlete)
    )


def resting_from(book: MarkBook, athlete: str) -> Window | None:
    """Return the last stretch in which a resting baseline was taken."""
    found, start_ns = None, None
    for one in book.standing:
        if one.mark.athlete not in (None, athlete):
            continue
        if one.mark.kind == MarkKind.BASELINE_START:
            start_ns = one.t_ns
        elif one.mark.kind == MarkKind.BASELINE_END and start_ns is not None:
            found, start_ns = Window(start_ns / _NS_PER_S, one.t_ns / _NS_PER_S), None
    return found


def _bout(
    one: marked.Bout,
    notes: BoutNotes,
    end_ns: int,
    band_bpm: tuple[float, float] | None,
    recording: str,
) -> Bout:
    start_s = one.start_ns / _NS_PER_S
    end_s = (end_ns if one.end_ns is None else one.end_ns) / _NS_PER_S
    return Bout(
        one.number,
        start_s,
        end_s,
        kind=notes.work,
        resting=one.phase is marked.Phase.RECOVERY,
        warm_up=one.phase is marked.Phase.WARM_UP,
        intensity=_intensity(notes, end_s - start_s),
        band_bpm=band_bpm,
        rpe=notes.rpe_cr10,
        note="; ".join(notes.notes),
        recording=recording,
    )


def _intensity(notes: BoutNotes, seconds: float) -> Intensity | None:
    """Take the load that was entered, or else the mean speed over the distance."""
    if notes.load is not None:
        return Intensity(*notes.load)
    if notes.distance_m is not None and seconds > 0:
        return Intensity(notes.distance_m / seconds, "m/s", Origin.DISTANCE)
    return None


def _band(book: MarkBook, athlete: str, one: marked.Bout) -> tuple[float, float] | None:
    """Return the bout's own band, or the last one that was marked before it."""
    if one.band_bpm is not None:
        return one.band_bpm
    said = [
        marked.band_in(s.mark)
        for s in book.standing
        if s.mark.kind == MarkKind.BAND
        and s.mark.athlete in (None, athlete)
        and s.t_ns <= one.start_ns
    ]
    return said[-1] if said else None
