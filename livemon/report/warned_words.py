"""Drain warnings in words for the athlete: how many, and the first of them."""

from collections.abc import Sequence

from livemon.analyse.bout import Bout
from livemon.analyse.session import AthleteAnalysis
from livemon.analyse.warned import Warned
from livemon.report.figures import clock
from livemon.tongue import said, said_n


def warned_short(warnings: Sequence[Warned], bout: Bout) -> str:
    """Return it as short as it fits under a small picture; empty if there was none."""
    if not warnings:
        return ""
    time = clock(warnings[0].t_s - bout.start_s)
    if len(warnings) == 1:
        return said("drain warning at {time}", time=time)
    return said_n(
        "drain warning at {time}, {n} in all",
        "drain warning at {time}, {n} in all",
        len(warnings), time=time,
    )  # fmt: skip


def warned_sentence(analysis: AthleteAnalysis) -> tuple[str, ...]:
    """Return a sentence for the athlete; nothing if nobody was warned."""
    warned = [b for b in analysis.bouts if b.warnings]
    if not warned:
        return ()
    count, first = sum(len(b.warnings) for b in warned), warned[0].bout
    time = clock(warned[0].warnings[0].t_s - first.start_s)
    if count == 1:
        return (
            said(
                "The screen warned once that the muscle kept draining while heart rate held: in"
                " bout {bout} after {time}.",
                bout=first.number, time=time,
            ),
        )  # fmt: skip
    return (
        said_n(
            "The screen warned {n} time that the muscle kept draining while heart rate held: first"
            " in bout {bout} after {time}.",
            "The screen warned {n} times that the muscle kept draining while heart rate held: first"
            " in bout {bout} after {time}.",
            count, bout=first.number, time=time,
        ),
    )  # fmt: skip
