"""A radio that holds readings back and hands them over together: little may be lost by it.

What is compared is the same readings, once delivered as they were taken and once in bursts with
equal stamps. The true slope is known, since the fall is straight and invented.
"""

from dataclasses import replace

import pytest
from athlete_traces import SETTLED, SETTLED_HEART, SITE, Sample, falling, held, stream

from livemon import HeartRateSample, Monitor, OxygenationSample, WarningOn
from livemon.monitor.changes import Change

RATE_PCT_PER_MIN = 8.0
FALL = list(stream(falling(SETTLED, RATE_PCT_PER_MIN, 90), [*held(SETTLED_HEART, 90)]))


def counted(samples: list[Sample]) -> list[Sample]:
    """With a packet counter that goes round at 50, and beats."""
    return [
        replace(sample, sequence=number // 2 % 50)
        if isinstance(sample, OxygenationSample)
        else replace(sample, rr_s=(60 / (sample.bpm or 60),))
        for number, sample in enumerate(samples)
    ]


def in_bursts(samples: list[Sample], every_s: float) -> list[Sample]:
    """All that was taken since the last burst arrives at once."""
    late = [replace(s, t_s=(s.t_s // every_s + 1) * every_s) for s in samples]
    return sorted(late, key=lambda s: (s.t_s, isinstance(s, OxygenationSample)))


def watched(samples: list[Sample]) -> tuple[list[Change], Monitor]:
    """Feed all, with a tick each half second as a session gives them."""
    monitor, tick = Monitor(), 0
    out: list[Change] = []
    for sample in samples:
        while tick / 2 <= sample.t_s:
            out += monitor.advance(tick / 2)
            tick += 1
        out += monitor.feed(sample)
    return out, monitor


@pytest.mark.parametrize("every_s", [0.5, 1.5, 2.0, 3.0])
@pytest.mark.parametrize("samples", [FALL, counted(FALL)], ids=["plain", "counted"])
def test_a_fall_is_told_with_its_true_rate_although_readings_bunch(
    samples: list[Sample], every_s: float
) -> None:
    (prompt,) = (c for c in watched(samples)[0] if isinstance(c, WarningOn))
    changes, monitor = watched(in_bursts(samples, every_s))
    (bunched,) = (c for c in changes if isinstance(c, WarningOn))
    trend = monitor.snapshot().sites[0].trend

    assert bunched.t_s - prompt.t_s <= every_s + 3.0
    assert trend is not None
    assert trend.pct_per_min == pytest.approx(-RATE_PCT_PER_MIN, abs=1.0)
    assert trend.low_pct_per_min <= -RATE_PCT_PER_MIN <= trend.high_pct_per_min


@pytest.mark.parametrize("every_s", [1.5, 3.0])
def test_no_reading_of_a_burst_is_refused(every_s: float) -> None:
    oximeter: list[Sample] = [s for s in counted(FALL) if isinstance(s, OxygenationSample)]
    _, monitor = watched(in_bursts(oximeter, every_s))

    assert monitor.snapshot().refused == ()


def test_the_line_that_is_drawn_has_a_value_for_every_second_of_a_burst() -> None:
    """A straight fall by 1 point a second, one reading a second, three at a time."""
    monitor = Monitor()
    for second in range(0, 60, 3):
        for late_s in (3, 2, 1):
            monitor.feed(
                OxygenationSample(
                    second + 3.5, SITE, 80.0 - (second + 3 - late_s), sequence=second + 3 - late_s
                )
            )
        monitor.feed(HeartRateSample(second + 3.6, 120.0))
    monitor.advance(65.0)

    t_ns, values = monitor.snapshot().sites[0].trail.read()
    assert (t_ns[1:] - t_ns[:-1]).tolist()[-40:] == [1_000_000_000] * 40
    assert (values[:-1] - values[1:]).tolist()[-40:] == [1.0] * 40


def test_readings_after_a_silence_are_not_dated_back_into_it() -> None:
    """Lost is not late: at the usual pace again, they fill no second that was empty."""
    monitor = Monitor()
    for quarter in range(80):
        monitor.feed(OxygenationSample(quarter / 4, SITE, 60.0 + quarter % 2 / 10))
    for quarter in range(20):
        monitor.feed(OxygenationSample(26.0 + quarter / 4, SITE, 50.0 + quarter % 2 / 10))
    monitor.advance(32.0)

    t_ns, values = monitor.snapshot().sites[0].trail.read()
    lower_ns = [t for t, value in zip(t_ns.tolist(), values.tolist(), strict=True) if value < 55]
    assert lower_ns[0] == 27_000_000_000  # the end of the second in which the first came
