"""Drain warnings in words: how many, the first of them, and on what evidence."""

from collections.abc import Sequence

from livemon.analyse.bout import Bout
from livemon.analyse.numbers import number
from livemon.analyse.session import AthleteAnalysis
from livemon.analyse.warned import Warned
from livemon.report.figures import clock


def warned_line(warnings: Sequence[Warned], bout: Bout) -> str:
    """Return the warnings of one bout in a line for the coach; empty if there was none."""
    if not warnings:
        return ""
    first = warnings[0]
    return (
        f"drain warnings: {len(warnings)}, the first {clock(first.t_s - bout.start_s)} into the"
        f" bout ({', '.join(_evidence(first))})"
    )


def warned_short(warnings: Sequence[Warned], bout: Bout) -> str:
    """Return it as short as it fits under a small picture."""
    if not warnings:
        return ""
    return f"drain warning at {clock(warnings[0].t_s - bout.start_s)}" + (
        f", {len(warnings)} in all" if len(warnings) > 1 else ""
    )


def warned_sentence(analysis: AthleteAnalysis) -> tuple[str, ...]:
    """Return a sentence for the athlete; nothing if nobody was warned."""
    warned = [b for b in analysis.bouts if b.warnings]
    if not warned:
        return ()
    count, first = sum(len(b.warnings) for b in warned), warned[0]
    after = clock(first.warnings[0].t_s - first.bout.start_s)
    times = "once" if count == 1 else f"{count} times"
    opening = "in" if count == 1 else "first in"
    return (
        f"The screen warned {times} that the muscle kept draining while heart rate held:"
        f" {opening} bout {first.bout.number} after {after}.",
    )


def _evidence(warned: Warned) -> list[str]:
    said = [warned.site]
    if warned.fall_rate_pct_per_min is not None:
        said.append(f"falling {number(warned.fall_rate_pct_per_min, 1)} %/min")
    if warned.falling_for_s is not None:
        said.append(f"for {clock(warned.falling_for_s)}")
    if warned.bpm is not None:
        said.append(f"heart rate {warned.bpm:.0f} bpm")
    return said
