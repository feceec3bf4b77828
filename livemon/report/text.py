"""An athlete's analysis as plain text for a terminal."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from livemon.analyse.compare import CLEAR
from livemon.analyse.intensity_words import intensity_in_full
from livemon.analyse.measure import Measure
from livemon.analyse.muscle import MuscleBout
from livemon.analyse.session import AthleteAnalysis, BoutAnalysis, SitePace
from livemon.estimate.balance import Balance
from livemon.report.figures import NOTHING, bare, clock, figure
from livemon.report.text_warned import warned_line

_FOOT: Final = (
    "Intervals in brackets hold the true value nine times in ten. SmO2 in % of this placement:"
    " compare it within a recording, not with other people. Training information, not a diagnosis."
)


def analysis_text(analysis: AthleteAnalysis) -> str:
    """Write everything that was found, one thing a line."""
    if analysis.note:
        return f"{analysis.athlete}: {analysis.note}\n"
    parts = [[analysis.athlete], *map(_bout_lines, analysis.bouts)]
    if analysis.comparisons:
        parts.append(_comparison_lines(analysis))
    parts += [_pace_lines(pace) for pace in analysis.paces]
    parts.append([_FOOT])
    return "\n\n".join("\n".join(lines) for lines in parts) + "\n"


def _bout_lines(found: BoutAnalysis) -> list[str]:
    bout, heart = found.bout, found.heart_rate
    title = f"Bout {bout.number}, {bout.kind or 'work'}, {clock(bout.duration_s)}"
    if bout.intensity is not None:
        title += f", {intensity_in_full(bout.intensity)}"
    drift = figure(heart.drift, signed=True, decimals=1)
    lines = [
        title,
        f"  heart rate {figure(heart.late_mean, decimals=0)}, {heart.steadiness.value},"
        f" drift {drift}, steady after {_time(heart.time_to_steady)}",
    ]
    lines += [f"  {line}" for line in _table(_muscle_rows(found.muscles))]
    unsure = [m for m in found.muscles if m.word.balance is Balance.UNSURE]
    lines += [f"    {m.site}: {m.word.reason}" for m in unsure]
    if found.lactate.last.value is not None:
        change = figure(found.lactate.change, signed=True)
        lines.append(f"  lactate {figure(found.lactate.last)}, change {change}")
    if warned := warned_line(found.warnings, bout):
        lines.append(f"  {warned}")
    lines.append(f"  limit: {found.limiter.limit.value}")
    lines += [f"    {evidence}" for evidence in found.limiter.evidence]
    if found.limiter.missing:
        lines.append(f"    open: {found.limiter.missing}")
    return lines


def _muscle_rows(muscles: Iterable[MuscleBout]) -> Iterator[tuple[str, ...]]:
    yield "site", "balance", "slope, %/min", "baseline, %", "drop, %", "late, %", "half back, s"
    for m in muscles:
        yield (
            m.site,
            m.word.balance.value,
            bare(m.late.slope, decimals=1, signed=True),
            bare(m.baseline.level, decimals=0),
            bare(m.depth.drop, decimals=0),
            bare(m.late.level, decimals=0),
            bare(m.recovery.half_time, decimals=0),
        )


def _comparison_lines(analysis: AthleteAnalysis) -> list[str]:
    """List the differences that mean something, and say how many others there were."""
    rows = [(pair, row) for pair in analysis.comparisons for row in pair.rows]
    clear = [(pair, row) for pair, row in rows if row.verdict in CLEAR]
    title = f"Compared at like heart rate: {len(clear)} clear differences of {len(rows)} looked at"
    if not clear:
        return [title]
    cells = [
        (
            f"bout {pair.first} → {pair.second}",
            row.site,
            row.quantity,
            figure(row.difference, signed=True),
            row.verdict,
        )
        for pair, row in clear
    ]
    return [title, *(f"  {line}" for line in _table(cells))]


def _pace_lines(found: SitePace) -> list[str]:
    where = f"{found.site}, {found.kind or 'work'}"
    lines = [_or_reason(f"Pace that holds, {where}", found.pace.intensity)]
    lines.append(_or_reason(f"Breakpoint, {where}", found.breakpoint.at))
    if found.breakpoint.at.value is not None:
        lines.append(found.breakpoint.caution)
    return lines


def _or_reason(title: str, measure: Measure) -> str:
    return f"{title}: {figure(measure) if measure.value is not None else measure.reason}"


def _time(measure: Measure) -> str:
    return NOTHING if measure.value is None else clock(measure.value)


def _table(rows: Iterable[Sequence[str]]) -> list[str]:
    """Line up columns two spaces apart."""
    cells = [list(row) for row in rows]
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in cells
    ]
