"""What people noted about each bout: load, repetitions, exertion, lactate, words."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from livemon.monitor.bouts import Bout, Phase
from livemon.monitor.corrections import MarkBook, Standing
from livemon.monitor.lactate import LactateSample
from livemon.monitor.mark_fields import LOAD_UNITS, MarkKind
from livemon.monitor.marks import number_in, text_in


@dataclass(frozen=True, slots=True)
class BoutNotes:
    """What was noted about one bout. None means that nobody said.

    Attributes:
        work: the kind of work, as corrected or added after the start; else as begun.
        load: number and unit.
        rpe: on Borg's CR10 scale, as text, since its last point has no number.
    """

    work: str
    load: tuple[float, str] | None = None
    repetitions: int | None = None
    distance_m: float | None = None
    rpe: str | None = None
    rpe_cr10: float | None = None
    lactates: tuple[LactateSample, ...] = ()
    notes: tuple[str, ...] = ()


def notes_of(book: MarkBook, bouts: Sequence[Bout], athlete: str) -> dict[str, BoutNotes]:
    """Return what was noted about each of `bouts`, by the id of the mark that began it.

    A note that names its bout belongs to that one; any other to the bout of work that was going
    on, or the last one before it: exertion and lactate are asked for after the work.
    """
    about: dict[str, list[Standing]] = {bout.mark: [] for bout in bouts}
    for one in book.standing:
        if one.mark.athlete not in (None, athlete):
            continue
        named = text_in(one.mark, "bout")
        owner = book.first_of(named) if named else _worked_before(bouts, one.t_ns)
        if owner in about:
            about[owner].append(one)
    return {bout.mark: _gathered(bout, about[bout.mark]) for bout in bouts}


def lactates_of(standing: Iterable[Standing], athlete: str) -> tuple[LactateSample, ...]:
    """Return all samples of `athlete`, also those before the first bout, oldest first."""
    return tuple(
        sample
        for one in standing
        if one.mark.athlete in (None, athlete)
        for sample in _lactate(one)
    )


def _worked_before(bouts: Sequence[Bout], t_ns: int) -> str:
    worked = [b.mark for b in bouts if b.phase is Phase.WORK and b.start_ns <= t_ns]
    return worked[-1] if worked else ""


def _gathered(bout: Bout, about: list[Standing]) -> BoutNotes:
    """Put the notes together; of two that say the same thing, the one that happened last holds."""
    work, load, repetitions, distance_m = bout.kind, None, None, None
    rpe, rpe_cr10 = None, None
    for one in about:
        mark = one.mark
        match mark.kind:
            case MarkKind.WORK:
                work = text_in(mark, "work") or work
            case MarkKind.LOAD:
                load = _load(one) or load
            case MarkKind.REPETITIONS:
                count = number_in(mark, "repetitions")
                repetitions = repetitions if count is None else round(count)
            case MarkKind.DISTANCE:
                distance_m = number_in(mark, "distance_m") or distance_m
            case MarkKind.RPE:
                rpe_cr10 = number_in(mark, "rpe_cr10")
                rpe = text_in(mark, "rpe_cr10") or (None if rpe_cr10 is None else f"{rpe_cr10:g}")
    return BoutNotes(
        work, load, repetitions, distance_m, rpe, rpe_cr10,
        tuple(sample for one in about for sample in _lactate(one)),
        tuple(text_in(one.mark, "text") for one in about if one.mark.kind == MarkKind.NOTE),
    )  # fmt: skip


def _load(one: Standing) -> tuple[float, str] | None:
    for key, unit in LOAD_UNITS:
        value = number_in(one.mark, key)
        if value is not None:
            return value, unit
    return None


def _lactate(one: Standing) -> tuple[LactateSample, ...]:
    value = number_in(one.mark, "lactate_mmol_l")
    if one.mark.kind != MarkKind.LACTATE or value is None:
        return ()
    return (LactateSample(one.t_ns, value, text_in(one.mark, "sampling_site")),)
