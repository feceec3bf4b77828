"""The whole run: the same figures however the work is shared, and the command around it."""

import json
from argparse import ArgumentParser
from functools import partial

import numpy as np

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.estimate.steadiness import Steadiness
from livemon.monitor.changes import Change, WarningOff, WarningOn
from livemon.monitor.snapshot import AthleteSnapshot, HeartRateState, Trust
from livemon.score import command, run
from livemon.score.oracle import FALSE_PER_HOUR
from livemon.score.promise import false_count, quiet_hours
from livemon.score.run import FULL, score, trace_results
from livemon.score.seeds import Family, scenarios
from livemon.score.watch import livemon_monitor
from livemon.warn.priority import Priority


class Clockwork:
    """Warns for ten seconds out of every `period_s`, whatever is fed."""

    def __init__(self, period_s: float, sites: tuple[str, ...]) -> None:
        self._period_s, self._sites, self._on, self._t_s = period_s, sites, False, 0.0

    def feed(self, sample: HeartRateSample | OxygenationSample) -> tuple[Change, ...]:
        return self.advance(sample.t_s)

    def advance(self, t_s: float) -> tuple[Change, ...]:
        self._t_s = max(self._t_s, t_s)
        on = self._t_s % self._period_s > self._period_s - 10.0
        if on == self._on:
            return ()
        self._on = on
        if on:
            return (WarningOn(self._sites[0], self._t_s, Priority.CAUTION, 4.0, 10.0, 150.0),)
        return (WarningOff(self._sites[0], self._t_s, "level"),)

    def snapshot(self) -> AthleteSnapshot:
        trail = np.zeros((0, 2))
        heart = HeartRateState(
            None, None, Trust.ABSENT, None, Steadiness.UNDECIDABLE, None, None, trail
        )
        return AthleteSnapshot(self._t_s, heart, (), ())


every_minute = partial(Clockwork, 60.0)


def test_the_work_may_be_shared() -> None:
    alone = trace_results(Family.FINAL, 1, every_minute)

    assert trace_results(Family.FINAL, 1, every_minute, workers=2) == alone
    assert [r.key.scenario for r in alone] == list(scenarios(Family.FINAL))


def test_more_traces_do_not_change_the_first_ones() -> None:
    few = trace_results(Family.TUNING, 1, every_minute)
    more = trace_results(Family.TUNING, 2, every_minute)

    assert [r for r in more if r.key.number == 0] == few


def test_a_clockwork_that_knows_nothing_is_found_out() -> None:
    """One in each minute: about sixty an hour are false, less those in border moments."""
    results = trace_results(Family.TUNING, 1, every_minute)

    assert 45 < false_count(results) / quiet_hours(results) < 61
    assert not score(Family.TUNING, 1, every_minute).holds


def test_progress_counts_every_trace() -> None:
    seen: list[tuple[int, int]] = []
    score(Family.TUNING, 1, every_minute, progress=lambda done, total: seen.append((done, total)))

    total = len(scenarios(Family.TUNING))
    assert seen == [(n, total) for n in range(1, total + 1)]


def test_the_full_run_is_long_enough() -> None:
    """At least 500 hours: estimated from the scripts alone."""
    for family in Family:
        hours = [
            scenario(run.TraceKey(family, name, n).chance()).seconds / 3600
            for name, scenario in scenarios(family).items()
            for n in range(20)
        ]
        assert sum(hours) / 20 * FULL[family] > 500


def test_livemon_is_scored_the_same_twice() -> None:
    """Its own monitor, on one trace of each scenario: no figure is asked of so few."""
    first = score(Family.TUNING, 1, livemon_monitor)

    assert score(Family.TUNING, 1, livemon_monitor) == first
    assert any(f.value is not None for f in first.figures)


def arguments(*words: str) -> object:
    parser = ArgumentParser()
    command.add_arguments(parser)
    return parser.parse_args(words)


def test_the_command_writes_a_table_or_json() -> None:
    out: list[str] = []
    bars: list[str] = []

    assert (
        command.run(
            arguments("--quick", "--traces", "1", "--workers", "1"), out.append, bars.append
        )
        == 0
    )
    assert "false warnings" in out[0]
    assert bars[-1].endswith("19 of 19 traces\n")

    out.clear()
    words = ("--quick", "--traces", "1", "--json", "--family", "tuning", "--workers", "1")
    assert command.run(arguments(*words), out.append, bars.append) == 0
    assert json.loads(out[0])["family"] == "tuning"


def test_the_limits_and_the_oracle_speak_of_the_same_rate() -> None:
    figures = {f.name: f for f in score(Family.TUNING, 1, every_minute).figures}

    assert figures["false warnings"].at_most == FALSE_PER_HOUR
