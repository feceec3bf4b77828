"""Bouts and recoveries of one athlete, out of the marks that hold.

    bout_start ──▶ WORK ──▶ ended by bout_end, recovery_start, warm_up_start or the next bout_start

One stretch at a time: beginning one ends the other. What was entered late lands where it
happened, because the marks are taken in the order of happening. Nothing here knows samples.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from types import MappingProxyType
from typing import Final

from livemon.events import Mark
from livemon.monitor.corrections import Standing
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import number_in, text_in
from livemon.monitor.snapshot import BoutState

_NS_PER_S: Final = 1e9


class Phase(Enum):
    """What a stretch of the session is."""

    WORK = "work"
    RECOVERY = "recovery"
    WARM_UP = "warm-up"


@dataclass(frozen=True, slots=True)
class Bout:
    """A stretch of the session that was marked.

    Attributes:
        mark: id of the mark that began it; notes refer to it.
        number: 1 for the first bout of work; a recovery has the number of the bout before it, and
            is 0 before the first; so is a warm-up.
        end_ns: None while it goes on.
        kind: what kind of work, in the words of whoever marked it; may be empty.
        band_bpm: the band to hold in this bout, if it has one of its own.
        refill_pct: the refilling, in % of baseline, at which a recovery is meant to end.
    """

    mark: str
    number: int
    phase: Phase
    start_ns: int
    end_ns: int | None
    kind: str
    planned_s: float | None = None
    planned_m: float | None = None
    refill_pct: float | None = None
    band_bpm: tuple[int, int] | None = None


_STARTS: Final[Mapping[str, Phase]] = MappingProxyType(
    {
        MarkKind.BOUT_START: Phase.WORK,
        MarkKind.RECOVERY_START: Phase.RECOVERY,
        MarkKind.WARM_UP_START: Phase.WARM_UP,
    }
)
_ENDS: Final[Mapping[str, Phase]] = MappingProxyType(
    {
        MarkKind.BOUT_END: Phase.WORK,
        MarkKind.RECOVERY_END: Phase.RECOVERY,
        MarkKind.WARM_UP_END: Phase.WARM_UP,
    }
)


def bouts_of(standing: Iterable[Standing], athlete: str) -> tuple[Bout, ...]:
    """Return the stretches of `athlete`, marked for them or for everybody, oldest first."""
    bouts: list[Bout] = []
    for one in standing:
        if one.mark.athlete not in (None, athlete):
            continue
        running = bouts[-1] if bouts and bouts[-1].end_ns is None else None
        phase = _STARTS.get(one.mark.kind)
        ends = phase is not None or (running and _ENDS.get(one.mark.kind) is running.phase)
        if running is not None and ends:
            # A stretch without length is a double press.
            bouts[-1:] = [replace(running, end_ns=one.t_ns)] if one.t_ns > running.start_ns else []
        if phase is not None:
            bouts.append(_begun(one, phase, bouts))
    return tuple(bouts)


def bout_state(bouts: Iterable[Bout]) -> BoutState | None:
    """Return the bout or recovery that goes on, for the snapshot; None between them."""
    for bout in bouts:
        if bout.end_ns is None and bout.phase is not Phase.WARM_UP:
            return BoutState(
                number=bout.number,
                kind=bout.kind,
                resting=bout.phase is Phase.RECOVERY,
                started_s=bout.start_ns / _NS_PER_S,
                planned_s=bout.planned_s,
                planned_m=bout.planned_m,
                refill_pct=bout.refill_pct,
            )
    return None


def bout_spans(bouts: Iterable[Bout]) -> tuple[tuple[float, float | None, str, bool], ...]:
    """Return (start_s, end_s, kind, resting) of bouts and recoveries, for the snapshot."""
    return tuple(
        (
            bout.start_ns / _NS_PER_S,
            None if bout.end_ns is None else bout.end_ns / _NS_PER_S,
            bout.kind,
            bout.phase is Phase.RECOVERY,
        )
        for bout in bouts
        if bout.phase is not Phase.WARM_UP
    )


def _begun(one: Standing, phase: Phase, before: list[Bout]) -> Bout:
    worked = sum(bout.phase is Phase.WORK for bout in before)
    return Bout(
        mark=one.first,
        number=0 if phase is Phase.WARM_UP else worked + (phase is Phase.WORK),
        phase=phase,
        start_ns=one.t_ns,
        end_ns=None,
        kind=text_in(one.mark, "work"),
        planned_s=number_in(one.mark, "planned_s"),
        planned_m=number_in(one.mark, "planned_m"),
        refill_pct=number_in(one.mark, "refill_pct"),
        band_bpm=band_in(one.mark),
    )


def band_in(mark: Mark) -> tuple[int, int] | None:
    """Return the heart-rate band that a mark holds, if it does."""
    low, high = number_in(mark, "low_bpm"), number_in(mark, "high_bpm")
    if low is None or high is None or low >= high:
        return None
    return round(low), round(high)
