"""Draw docs/score.svg: delay against false warnings, for every strictness of the warning.

Run: python benchmarks/warning_curve.py [traces of each scenario]      (default 40: ten minutes)

The curve of the warning comes from its setting `certain_nats`, all else as shipped; the curve of
the oracle from its threshold, on the same falls. Both count a missed fall as an infinite delay.
"""

import os
import sys
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from pathlib import Path

from warning_picture import draw

from livemon.monitor.athlete import Monitor
from livemon.score.figure import quantile
from livemon.score.oracle import seen_after_s
from livemon.score.promise import calm_traces, delay_or_never, false_count, is_fair, quiet_hours
from livemon.score.run import trace_results
from livemon.score.seeds import Family, TraceKey, scenarios
from livemon.score.trace import trace
from livemon.warn.settings import WarnSettings

FAMILY = Family.FINAL
ORACLE_PER_HOUR = (0.005, 0.01, 0.02, 0.06, 0.2, 0.6, 2.0, 6.0)
SHARES_OF_DEFAULT = (0.5, 0.75, 1.0, 1.2, 1.4)
PICTURE = Path(__file__).parents[1] / "docs" / "score.svg"


@dataclass(frozen=True, slots=True)
class Point:
    """One point of a curve."""

    per_hour: float
    delay_s: float
    note: str


def monitor(certain_nats: float, sites: tuple[str, ...]) -> Monitor:
    """Make a monitor of this strictness."""
    return Monitor(sites=sites, settings=WarnSettings(certain_nats=certain_nats))


def warning_point(certain_nats: float, each: int) -> Point:
    """Score one strictness."""
    make = partial(monitor, certain_nats)
    results = calm_traces(trace_results(FAMILY, each, make, workers=os.cpu_count() or 1))
    fair = [f for r in results for f in r.falls if is_fair(f)]
    delay_s = quantile([delay_or_never(f) for f in fair], 0.5) or 0.0
    hours = quiet_hours(results)
    # None at all in so many hours: drawn where one half would be.
    return Point(max(false_count(results), 0.5) / hours, delay_s, f"{certain_nats:.2g}")


def oracle_delays(key: TraceKey) -> list[list[float]]:
    """Return, for each fair fall of a trace, the oracle's delay at every rate."""
    drawn = trace(key)
    return [
        [
            float("inf") if (seen := seen_after_s(drawn, site, fall, rate)) is None else seen
            for rate in ORACLE_PER_HOUR
        ]
        for site, verdict in enumerate(drawn.verdicts)
        for fall in verdict.falls
        if fall.seconds >= 60 and fall.rate_pct_per_min >= 2.5 and not fall.regained
    ]


def oracle_curve(each: int) -> list[Point]:
    """Return the oracle's curve."""
    keys = [TraceKey(FAMILY, name, n) for name in scenarios(FAMILY) for n in range(each)]
    with get_context("spawn").Pool() as pool:
        rows = [row for rows in pool.map(oracle_delays, keys, chunksize=8) for row in rows]
    return [
        Point(rate, quantile([row[i] for row in rows], 0.5) or 0.0, "")
        for i, rate in enumerate(ORACLE_PER_HOUR)
    ]


def main() -> None:
    """Measure, print, draw."""
    each = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    default = WarnSettings().certain_nats
    oracle = oracle_curve(each)
    warning = []
    for share in SHARES_OF_DEFAULT:
        point = warning_point(default * share, each)
        sys.stdout.write(f"{point}\n")
        warning.append(point)
    sys.stdout.write("".join(f"oracle {point}\n" for point in oracle))
    chosen = warning[SHARES_OF_DEFAULT.index(1.0)]
    PICTURE.write_text(draw(warning, oracle, chosen), encoding="utf-8")


if __name__ == "__main__":
    main()
