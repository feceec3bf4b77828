"""Drain warnings in a line of the plain text: how many, the first, and on what evidence."""

from collections.abc import Sequence

from livemon.analyse.bout import Bout
from livemon.analyse.numbers import number
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


def _evidence(warned: Warned) -> list[str]:
    facts = [warned.site]
    if warned.fall_rate_pct_per_min is not None:
        facts.append(f"falling {number(warned.fall_rate_pct_per_min, 1)} %/min")
    if warned.falling_for_s is not None:
        facts.append(f"for {clock(warned.falling_for_s)}")
    if warned.bpm is not None:
        facts.append(f"heart rate {warned.bpm:.0f} bpm")
    return facts
