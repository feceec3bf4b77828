"""Which heart-rate band an athlete is to hold."""

from collections.abc import Iterable

from livemon.monitor.bouts import Bout, band_in
from livemon.monitor.corrections import Standing
from livemon.monitor.mark_fields import MarkKind


def band_of(
    standing: Iterable[Standing],
    bouts: Iterable[Bout],
    athlete: str,
    *,
    own_bpm: tuple[int, int] | None,
) -> tuple[int, int] | None:
    """Return the band of the bout that goes on, else the one set last, else the athlete's own."""
    for bout in bouts:
        if bout.end_ns is None and bout.band_bpm is not None:
            return bout.band_bpm
    band = own_bpm
    for one in standing:
        if one.mark.kind == MarkKind.BAND and one.mark.athlete in (None, athlete):
            band = band_in(one.mark)
    return band
