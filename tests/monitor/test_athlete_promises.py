"""What must hold for any input: shifts, repeats, late samples, gaps, silence, determinism."""

from dataclasses import replace
from math import isnan

import pytest
from athlete_traces import SETTLED, SETTLED_HEART, SITE, Sample, changes, falling, held, stream
from hypothesis import example, given, settings
from hypothesis import strategies as st

from livemon import HeartRateSample, Monitor, OxygenationSample, WarningOff, WarningOn
from livemon.monitor.changes import Change
from livemon.monitor.snapshot import AthleteSnapshot, Trust

FALL = list(
    stream(held(falling(SETTLED[90:], 9.0, 80), 40), SETTLED_HEART[90:] + [SETTLED_HEART[-1]] * 120)
)


def moved(samples: list[Sample], by_s: int) -> list[Sample]:
    return [replace(s, t_s=s.t_s + by_s) for s in samples]


def unmoved(change: Change, by_s: int) -> Change:
    return replace(change, t_s=change.t_s - by_s)


@settings(max_examples=8)
@example(by_s=0)
@example(by_s=1_790_000_000)
@example(by_s=-4_000)
@given(by_s=st.integers(-(10**6), 2 * 10**9))
def test_the_origin_of_time_changes_no_bit(by_s: int) -> None:
    """The samples' times are multiples of 1/1024 s, so that the shift itself is exact."""
    exact = [replace(s, t_s=round(s.t_s * 1024) / 1024) for s in FALL]
    here, there = Monitor(), Monitor()
    out = changes(here, exact)
    shifted = changes(there, moved(exact, by_s))

    assert [unmoved(c, by_s) for c in shifted] == out
    assert there.snapshot().sites == here.snapshot().sites
    assert there.snapshot().heart_rate == here.snapshot().heart_rate


def test_the_same_samples_give_the_same_bits() -> None:
    one, other = Monitor(), Monitor()

    assert changes(one, FALL) == changes(other, FALL)
    assert one.snapshot() == other.snapshot()


@settings(max_examples=8)
@given(st.sets(st.integers(1, len(FALL) - 1), max_size=80))
def test_repeats_and_late_samples_change_nothing(where: set[int]) -> None:
    """Each chosen sample is delivered again, and an older one after it."""
    plain, disturbed = Monitor(), Monitor()
    untidy: list[Sample] = []
    for i, sample in enumerate(FALL):
        untidy.append(sample)
        if i in where:
            untidy += [sample, FALL[max(i - 7, 0)]]
    out = changes(plain, FALL)

    assert changes(disturbed, untidy) == out
    assert disturbed.snapshot().sites == plain.snapshot().sites
    assert disturbed.snapshot().heart_rate == plain.snapshot().heart_rate


@settings(max_examples=10)
@example(at=564, gap_s=37)  # the last second heard is the one that tells the fall
@given(at=st.integers(400, 700), gap_s=st.integers(1, 200))
def test_no_warning_comes_on_in_a_gap(at: int, gap_s: int) -> None:
    """The second whose readings came before it is judged when it ends, which is no gap yet."""
    monitor = Monitor()
    changes(monitor, FALL[:at])
    t_s = FALL[at - 1].t_s
    monitor.advance(t_s + 1)
    came = [c for s in range(2, gap_s) for c in monitor.advance(t_s + s)]

    assert not [c for c in came if isinstance(c, WarningOn)]


def test_nothing_fed_nothing_said() -> None:
    monitor = Monitor()

    assert not [c for s in range(300) for c in monitor.advance(float(s))]
    assert monitor.snapshot().sites[0].trust is Trust.ABSENT


def test_a_gap_ends_the_warning_and_begins_afresh() -> None:
    monitor = Monitor()
    at = 2 * (len(SETTLED) - 90 + 60)
    assert any(isinstance(c, WarningOn) for c in changes(monitor, FALL[:at]))
    t_s = FALL[at - 1].t_s

    off = monitor.gap(t_s + 1200)
    after = changes(monitor, moved(FALL[at : at + 24], 1200))

    assert [c.reason for c in off if isinstance(c, WarningOff)] == ["nobody was watching"]
    assert not after
    assert monitor.snapshot().heart_rate.steady_for_s is None


def test_a_long_silence_of_the_caller_is_a_gap() -> None:
    monitor = Monitor()
    at = 2 * (len(SETTLED) - 90 + 60)
    changes(monitor, FALL[:at])

    assert [type(c) for c in monitor.advance(FALL[at - 1].t_s + 31.5)] == [WarningOff]


@pytest.mark.parametrize("silent_s", [6, 9])
def test_a_short_silence_of_the_oximeter_leaves_the_warning_on(silent_s: int) -> None:
    monitor = Monitor()
    at = 2 * (len(SETTLED) - 90 + 40)
    before = changes(monitor, FALL[:at])
    t_s = FALL[at].t_s
    quiet = [
        s for s in FALL[at : at + 30] if isinstance(s, HeartRateSample) or s.t_s > t_s + silent_s
    ]

    assert len([c for c in before if isinstance(c, WarningOn)]) == 1
    assert not [c for c in changes(monitor, quiet) if isinstance(c, WarningOn | WarningOff)]


def test_a_long_silence_of_the_oximeter_ends_it() -> None:
    monitor = Monitor()
    at = 2 * (len(SETTLED) - 90 + 60)
    changes(monitor, FALL[:at])
    silence = [s for s in FALL[at : at + 60] if isinstance(s, HeartRateSample)]

    assert [c.reason for c in changes(monitor, silence) if isinstance(c, WarningOff)] == ["no data"]


@settings(max_examples=30)
@given(
    st.lists(
        st.tuples(
            st.floats(0, 5),
            st.one_of(st.none(), st.floats(0, 100), st.just(float("nan"))),
            st.one_of(st.none(), st.floats(0, 300)),
            st.sampled_from([None, True, False]),
        ),
        max_size=300,
    )
)
def test_any_input_leaves_a_snapshot_without_nan_and_warnings_in_pairs(
    steps: list[tuple[float, float | None, float | None, bool | None]],
) -> None:
    monitor, t_s, open_warning = Monitor(), 0.0, False
    for gap_s, pct, bpm, contact in steps:
        t_s += gap_s
        samples: list[Sample] = [
            HeartRateSample(t_s, bpm, contact), OxygenationSample(t_s, SITE, pct, contact=contact)
        ]  # fmt: skip
        for change in changes(monitor, samples):
            if isinstance(change, WarningOn):
                assert not open_warning
                open_warning = True
            elif isinstance(change, WarningOff):
                assert open_warning
                open_warning = False
    assert not any(isnan(number) for number in numbers(monitor.snapshot()))


def numbers(snapshot: AthleteSnapshot) -> list[float]:
    site, heart = snapshot.sites[0], snapshot.heart_rate
    values: list[float | None] = [
        snapshot.t_s, heart.bpm, heart.age_s, heart.drift_bpm_per_min, site.smo2_pct, site.age_s,
        site.room_pct, site.own_low_pct, site.baseline_pct,
    ]  # fmt: skip
    if site.trend is not None:
        values += [site.trend.pct_per_min, site.trend.low_pct_per_min, site.trend.high_pct_per_min]
    if site.forecast is not None:
        values += [site.forecast.soonest_s, site.forecast.latest_s]
    return [value for value in values if value is not None]
