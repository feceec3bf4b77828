"""How long the analysis of a class takes: 24 invented athletes, 90 minutes, two sites each.

Run: python -m benchmarks.analyse
The aims are under 5 s for the analysis once the recording is open, and under 3 s for a sheet.
"""

import platform
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter, process_time

import numpy as np

from benchmarks.figure import Figure
from livemon.analyse.bout import Bout, Intensity
from livemon.analyse.series import Series
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.app.sheet_pdf import write_pdf
from livemon.report.paper import sheet_paper
from livemon.report.sheet import Heading, sheet_html

ATHLETES = 24
SESSION_S = 5400
WORK_S, REST_S = 300, 180


def athlete(seed: int) -> AthleteRecord:
    """Invent an athlete: eleven bouts of five minutes, heart rate, SmO2 and tHb at two sites."""
    rng = np.random.default_rng(seed)
    t_s = np.arange(0.0, SESSION_S)
    starts = range(120, SESSION_S - WORK_S - REST_S, WORK_S + REST_S)
    heart, smo2, thb = (np.full(SESSION_S, level) for level in (90.0, 70.0, 12.0))
    bouts = []
    for i, start in enumerate(starts):
        since = np.arange(WORK_S)
        fall = 15 * (1 - np.exp(-since / 12)) + (i - 4) * since / 300
        smo2[start : start + WORK_S] -= fall
        back = np.arange(REST_S)
        smo2[start + WORK_S : start + WORK_S + REST_S] -= fall[-1] * np.exp(-back / 20)
        heart[start : start + WORK_S] = 150 - 60 * np.exp(-since / 30)
        bouts.append(
            Bout(i + 1, start, start + WORK_S, "rowing", intensity=Intensity(3 + i / 5, "m/s"))
        )
    noise = [
        np.convolve(rng.normal(size=SESSION_S + 9), np.ones(10) / 5, "valid") for _ in range(4)
    ]
    return AthleteRecord(
        f"athlete {seed}",
        tuple(bouts),
        Series.of(t_s, heart + noise[0]),
        {
            "left thigh": Series.of(t_s, smo2 + noise[1]),
            "shoulder": Series.of(t_s, smo2 + noise[2]),
        },
        {"left thigh": Series.of(t_s, thb + noise[3] / 20)},
        band_bpm=(140, 160),
        idle_sites=frozenset({"shoulder"}),
    )


def figures() -> Iterator[Figure]:
    """Measure the class, and one athlete's sheet."""
    records = [athlete(seed) for seed in range(ATHLETES)]
    start_s, busy_s = perf_counter(), process_time()
    analyses = [analyse_athlete(record) for record in records]
    taken_s, busy_s = perf_counter() - start_s, process_time() - busy_s
    what = f"{ATHLETES} athletes, 90 min, two sites: all bouts"
    beside = f"{busy_s:.2f} s of processor time"
    yield Figure(what, taken_s, "s", at_most=5.0, beside=beside)
    heading = Heading(records[0].athlete, "today")
    start_s = perf_counter()
    sheet_html(heading, records[0], analyses[0])
    yield Figure("one sheet, HTML", perf_counter() - start_s, "s", at_most=3.0)
    start_s = perf_counter()
    with TemporaryDirectory() as folder:
        write_pdf(Path(folder) / "sheet.pdf", sheet_paper(heading, records[0], analyses[0]))
    yield Figure("one sheet, PDF, with starting Qt", perf_counter() - start_s, "s", at_most=3.0)


def main() -> None:
    """Time it and say so."""
    records = [athlete(seed) for seed in range(ATHLETES)]
    start_s, busy_s = perf_counter(), process_time()
    analyses = [analyse_athlete(record) for record in records]
    taken_s, busy_s = perf_counter() - start_s, process_time() - busy_s
    bouts = sum(len(analysis.bouts) for analysis in analyses)
    print(
        f"{ATHLETES} athletes, {SESSION_S // 60} min, {bouts} bouts, two sites: {taken_s:.2f} s,"
        f" {busy_s:.2f} s of them on the processor"
    )
    heading = Heading(records[0].athlete, "today")
    start_s = perf_counter()
    page = sheet_html(heading, records[0], analyses[0])
    html_s = perf_counter() - start_s
    start_s = perf_counter()
    with TemporaryDirectory() as folder:
        write_pdf(Path(folder) / "sheet.pdf", sheet_paper(heading, records[0], analyses[0]))
    print(
        f"one sheet from its analysis: HTML of {len(page) / 1e3:.0f} kB {html_s:.2f} s, PDF"
        f" {perf_counter() - start_s:.2f} s with starting Qt"
        f" (Python {platform.python_version()}, numpy {np.__version__})"
    )


if __name__ == "__main__":
    main()
