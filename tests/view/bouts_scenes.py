"""Invented recordings for the Bouts page. No value here was measured on anybody.

SmO2 falls exponentially, goes on along a straight trend of 0.04 (250 - P) %/min, and refills; a
ripple of fixed sines stands for noise.
"""

from dataclasses import replace
from math import exp, sin
from pathlib import Path

from livemon.analyse.bout import Bout, Intensity
from livemon.analyse.lactate import LactateSample
from livemon.analyse.series import NOTHING, Series
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.errors import UsageError
from livemon.view.bouts_commands import BoutEntry, BoutsState
from livemon.view.bouts_source import BoutKey, BoutsSession

WORK_S, REST_S, FIRST_S = 300, 240, 120
POWERS_W = (210.0, 235.0, 260.0, 290.0)
HOLDS_W = 250.0
THIGH, FOREARM = "left thigh", "right forearm (resting)"


def bouts(powers: tuple[float, ...] = POWERS_W, recording: str = "r1") -> tuple[Bout, ...]:
    starts = [FIRST_S + i * (WORK_S + REST_S) for i in range(len(powers))]
    return tuple(
        Bout(i + 1, s, s + WORK_S, "ride", intensity=Intensity(p, "W"), rpe=4.0 + i,
             recording=recording)
        for i, (s, p) in enumerate(zip(starts, powers, strict=True))
    )  # fmt: skip


def smo2_at(t: float, marked: tuple[Bout, ...], drop: float) -> float:
    level = 68.0
    for bout in marked:
        worked, rested = t - bout.start_s, t - bout.end_s
        slope = 0.04 * (HOLDS_W - bout.intensity.value) if bout.intensity else 0.0
        if 0 <= worked < WORK_S:
            level = 68 - drop * (1 - exp(-worked / 12)) + slope * worked / 60
        elif 0 <= rested < REST_S:
            low = 68 - drop + slope * WORK_S / 60
            level = low + (68 - low) * (1 - exp(-rested / 20))
    return level + 0.5 * sin(t * 1.3) + 0.4 * sin(t * 0.37) + 0.3 * sin(t * 4.1)


def record(
    powers: tuple[float, ...] = POWERS_W, recording: str = "r1", drop: float = 18.0
) -> AthleteRecord:
    marked = bouts(powers, recording)
    t_s = [float(t) for t in range(int(marked[-1].end_s) + REST_S)]

    def bpm(t: float) -> float:
        return 150.0 if any(b.start_s + 30 <= t < b.end_s for b in marked) else 110.0

    return AthleteRecord(
        "Lane 3",
        marked,
        heart_rate=Series.of(t_s, [bpm(t) + 0.8 * sin(t * 0.9) for t in t_s]),
        smo2={
            THIGH: Series.of(t_s, [smo2_at(t, marked, drop) for t in t_s]),
            FOREARM: Series.of(t_s, [70 + 0.6 * sin(t * 0.8) + 0.4 * sin(t * 2.9) for t in t_s]),
        },
        lactate=(
            LactateSample(marked[0].start_s - 60, 1.2, "earlobe"),
            LactateSample(marked[0].end_s + 60, 3.4, "earlobe"),
        ),
        band_bpm=(145.0, 155.0),
        idle_sites=frozenset({FOREARM}),
    )


def session(of: AthleteRecord, recording: str = "r1", month: int = 3) -> BoutsSession:
    months = {3: "2 Mar 2026", 5: "2 May 2026", 9: "2 Sep 2026"}
    started = f"2026-{month:02}-02T10:00:00+00:00"
    return BoutsSession(recording, started, months[month], of, analyse_athlete(of))


def one() -> tuple[BoutsSession, ...]:
    return (session(record()),)


def three() -> tuple[BoutsSession, ...]:
    return tuple(
        session(record(POWERS_W[:2], name, drop), name, month)
        for name, month, drop in (("r1", 3, 12.0), ("r2", 5, 18.0), ("r3", 9, 36.0))
    )


def long_names() -> tuple[BoutsSession, ...]:
    was = record()
    site = "vastus lateralis, left leg, distal third (working side)"
    kind = "sled push with two weights up the long ramp"
    renamed = replace(
        was,
        athlete="Maximiliane-Alexandra von Schwarzenfels-Hohenlohe <b>",
        smo2={site: was.smo2[THIGH], FOREARM: was.smo2[FOREARM]},
        bouts=tuple(replace(b, kind=kind) for b in was.bouts),
    )
    return (session(renamed),)


def gappy(keep: range) -> tuple[BoutsSession, ...]:
    """Only the samples of these seconds."""
    was = record(POWERS_W[:2])

    def cut(series: Series) -> Series:
        kept = [i for i, t in enumerate(series.t_s.tolist()) if int(t) in keep]
        return Series.of(series.t_s[kept], series.values[kept])

    smo2 = {site: cut(series) for site, series in was.smo2.items()}
    return (session(replace(was, heart_rate=cut(was.heart_rate), smo2=smo2)),)


def constant() -> tuple[BoutsSession, ...]:
    was = record(POWERS_W[:2])
    t_s = was.heart_rate.t_s
    flat = {site: Series.of(t_s, [60.0] * len(t_s)) for site in was.smo2}
    return (session(replace(was, smo2=flat, heart_rate=Series.of(t_s, [140.0] * len(t_s)))),)


def no_rest() -> tuple[BoutsSession, ...]:
    """The recording begins with the bout: no baseline."""
    was = record(POWERS_W[:1])
    begun = replace(was.bouts[0], start_s=0.0)
    return (session(replace(was, bouts=(begun,))),)


def no_bouts() -> tuple[BoutsSession, ...]:
    return (session(replace(record(), bouts=())),)


def nothing_worn() -> tuple[BoutsSession, ...]:
    return (session(replace(record(), smo2={}, heart_rate=NOTHING, lactate=())),)


SCENES = {
    "one": one,
    "three": three,
    "long names": long_names,
    "one sample": lambda: gappy(range(130, 131)),
    "all gaps": lambda: gappy(range(0)),
    "constant": constant,
    "no baseline": no_rest,
    "no bouts": no_bouts,
    "nothing worn": nothing_worn,
    "no recording": tuple,
}


class Desk:
    """Holds a state; remembers what it was asked to correct."""

    def __init__(self, *sessions: BoutsSession) -> None:
        self.state = BoutsState(sessions, "", 1, 1)
        self.corrected: list[tuple[BoutKey, BoutEntry]] = []
        self.chosen: list[str] = []
        self.exported: list[tuple[BoutKey, Path]] = []
        self.stopped = False

    def latest(self) -> BoutsState:
        return self.state

    def choose(self, athlete: str) -> None:
        self.chosen.append(athlete)

    def correct(self, key: BoutKey, entry: BoutEntry) -> None:
        self.corrected.append((key, entry))

    def export(self, key: BoutKey, path: Path) -> None:
        if path.exists():
            raise UsageError(f"{path.name} is there already")
        self.exported.append((key, path))

    def stop(self) -> None:
        self.stopped = True
