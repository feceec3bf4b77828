"""Bouts and recoveries of an imported file, as the marks that a person would have made."""

from collections.abc import Iterable, Iterator
from typing import Final

from livemon.events import Mark
from livemon.exchange.mapping import Phases, Stretch
from livemon.monitor.mark_fields import MarkKind

_NS_PER_S: Final = 1_000_000_000
_LONGEST_WORK: Final = 60  # as in the entry form


def phase_marks(rows: Iterable[tuple[int, str]], phases: Phases, end_ns: int) -> Iterator[Mark]:
    """Yield a mark wherever the named work changes; an empty name ends what goes on.

    Args:
        rows: time and name, in order of time.
        phases: which names mean rest.
        end_ns: of the recording, where the last stretch ends.
    """
    going, number = "", 0
    for t_ns, name in (*rows, (end_ns, "")):
        now = name.strip()[:_LONGEST_WORK]
        if now == going:
            continue
        number += 1
        if now:
            yield _began(t_ns, f"phase-{number}", now, resting=now in phases.rest)
        else:
            yield _ended(t_ns, f"phase-{number}", resting=going in phases.rest)
        going = now


def stretch_marks(stretches: Iterable[Stretch]) -> Iterator[Mark]:
    """Yield the marks of stretches that the mapping names."""
    for number, one in enumerate(stretches, start=1):
        start_ns, end_ns = round(one.start_s * _NS_PER_S), round(one.end_s * _NS_PER_S)
        yield _began(start_ns, f"bout-{number}", one.work, resting=one.resting)
        yield _ended(end_ns, f"bout-{number}-end", resting=one.resting)


def _began(t_ns: int, mark: str, work: str, *, resting: bool) -> Mark:
    if resting:
        return Mark(t_ns, mark, None, MarkKind.RECOVERY_START)
    return Mark(t_ns, mark, None, MarkKind.BOUT_START, (("work", work),) if work else ())


def _ended(t_ns: int, mark: str, *, resting: bool) -> Mark:
    kind = MarkKind.RECOVERY_END if resting else MarkKind.BOUT_END
    return Mark(t_ns, mark, None, kind)
