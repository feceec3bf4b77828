"""A clock of 15.6 ms steps, as Python's monotonic one on Windows before 3.13, changes no number.

Two packets can carry one stamp there (https://github.com/python/cpython/pull/116781).
"""

from dataclasses import replace

import pytest
from athlete_traces import SETTLED, SETTLED_HEART, Sample, falling, held, stream

from livemon import Monitor, OxygenationSample, WarningOn
from livemon.monitor.changes import Change

STEP_S = 1 / 64
RATE_PCT_PER_MIN = 8.0
FALL = list(stream(falling(SETTLED, RATE_PCT_PER_MIN, 90), [*held(SETTLED_HEART, 90)]))


def on_a_coarse_clock(samples: list[Sample]) -> list[Sample]:
    """Shifted first, so that few stamps fall on a step by themselves."""
    return [replace(s, t_s=(s.t_s + 0.0101) // STEP_S * STEP_S) for s in samples]


def watched(samples: list[Sample]) -> tuple[list[Change], Monitor]:
    monitor, tick = Monitor(), 0
    out: list[Change] = []
    for sample in samples:
        while tick / 2 <= sample.t_s:
            out += monitor.advance(tick / 2)
            tick += 1
        out += monitor.feed(sample)
    return out, monitor


def test_a_fall_is_told_at_the_same_time_with_the_same_rate() -> None:
    fine, coarse = watched(FALL), watched(on_a_coarse_clock(FALL))
    (on,) = (change for change in fine[0] if isinstance(change, WarningOn))
    (later,) = (change for change in coarse[0] if isinstance(change, WarningOn))
    sites = [monitor.snapshot().sites[0] for _, monitor in (fine, coarse)]

    assert later.t_s == pytest.approx(on.t_s, abs=0.5)  # one tick
    assert sites[0].smo2_pct == sites[1].smo2_pct
    assert sites[0].trend is not None
    assert sites[1].trend is not None
    assert sites[1].trend.pct_per_min == pytest.approx(sites[0].trend.pct_per_min, abs=0.1)
    assert sites[1].trend.pct_per_min == pytest.approx(-RATE_PCT_PER_MIN, abs=1.0)


def test_counted_packets_of_one_stamp_are_all_taken() -> None:
    """Without a counter the same value at the same time is taken for a repetition."""
    counted = [
        replace(sample, sequence=number // 2 % 50, t_s=sample.t_s // 2.0 * 2.0)
        for number, sample in enumerate(FALL)
        if isinstance(sample, OxygenationSample)
    ]
    _, monitor = watched(list(counted))
    state = monitor.snapshot()

    assert len({sample.t_s for sample in counted}) < len(counted)
    assert state.refused == ()
    assert state.sites[0].smo2_pct == watched(FALL)[1].snapshot().sites[0].smo2_pct
