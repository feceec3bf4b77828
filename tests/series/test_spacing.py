"""How far apart readings were taken, as the sensor tells it."""

from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.series.spacing import HeartRateSpacing, OxygenationSpacing, Period

SECOND_US = 1_000_000


def reading(sequence: int | None = None, device_t_s: float | None = None) -> OxygenationSample:
    return OxygenationSample(0.0, "leg", 60.0, sequence=sequence, device_t_s=device_t_s)


@pytest.mark.parametrize("burst", [1, 2, 3, 4, 6, 8])
def test_the_period_is_learned_from_bursts_too(burst: int) -> None:
    """Four readings a second that come `burst` at a time."""
    period = Period()
    seen_us = [period.after((number // burst) * burst * 250_000) for number in range(200)]

    assert seen_us[0] == 0.0
    assert all(after_us == pytest.approx(250_000, rel=0.2) for after_us in seen_us[100:])


def test_lost_packets_do_not_stretch_a_counted_period() -> None:
    """Every third packet is lost; the counter says so."""
    spacing = OxygenationSpacing()
    kept = [number for number in range(60) if number % 3]

    told = [spacing.after_us(number * 250_000, reading(sequence=number)) for number in kept]

    steps = [after - before for before, after in pairwise(kept)]
    assert told[1:] == pytest.approx([250_000 * step for step in steps], rel=0.35)
    assert told[-10:] == pytest.approx([250_000 * step for step in steps[-10:]], rel=0.02)


def test_in_the_end_an_interval_weighs_a_thirty_second_part() -> None:
    period = Period()
    for number in range(100):
        period.after(number * SECOND_US)

    assert period.after(101 * SECOND_US) == pytest.approx(SECOND_US * (1 + 1 / 32))


def test_a_packet_that_is_not_counted_is_one_step() -> None:
    period = Period()
    period.after(0)
    period.after(SECOND_US)

    assert period.after(4 * SECOND_US, steps=3) == 3 * SECOND_US


def test_ten_seconds_are_a_period_still() -> None:
    period = Period()
    period.after(0)

    assert period.after(10 * SECOND_US) == 10 * SECOND_US


def test_after_an_interruption_at_the_beginning_nothing_is_known() -> None:
    period = Period()
    period.after(0)

    assert period.after(10 * SECOND_US + 1) == 0.0
    assert period.after(11 * SECOND_US + 1) == SECOND_US


def test_an_interruption_is_no_period() -> None:
    period = Period()
    for number in range(20):
        period.after(number * SECOND_US)

    assert period.after(19 * SECOND_US + 10 * SECOND_US + 1) == pytest.approx(SECOND_US)


@pytest.mark.parametrize(
    ("sequence", "steps"),
    [
        pytest.param(8, 1, id="the next"),
        pytest.param(10, 3, id="two were lost"),
        pytest.param(107, 100, id="as far as is believed"),
        pytest.param(108, 1, id="further: it was reset"),
        pytest.param(0, 1, id="round, or switched off and on"),
        pytest.param(None, 1, id="no longer sent"),
    ],
)
def test_steps_of_a_counter(sequence: int | None, steps: int) -> None:
    spacing = OxygenationSpacing()
    for number in range(8):
        spacing.after_us(number * SECOND_US, reading(sequence=number))

    # The mean of intervals over the mean of steps, one more of each: by hand.
    period_us = SECOND_US / (1 + (steps - 1) / 8)
    assert spacing.after_us(8 * SECOND_US, reading(sequence=sequence)) == pytest.approx(
        steps * period_us, abs=1
    )


@pytest.mark.parametrize(
    ("device_t_s", "after_us"),
    [
        pytest.param(100.25, 250_000, id="its clock went on"),
        pytest.param(110.0, 10 * SECOND_US, id="as far as is believed"),
        pytest.param(110.001, SECOND_US, id="further: it was set"),
        pytest.param(100.000001, 1, id="it went on by a microsecond"),
        pytest.param(0.0, SECOND_US, id="switched off and on, or round"),
        pytest.param(100.0, SECOND_US, id="it stands"),
        pytest.param(None, SECOND_US, id="not sent"),
    ],
)
def test_a_clock_tells_better_than_the_period(device_t_s: float | None, after_us: int) -> None:
    spacing = OxygenationSpacing()
    for number in range(9):
        spacing.after_us(number * SECOND_US, reading(device_t_s=92.0 + number))

    assert spacing.after_us(9 * SECOND_US, reading(device_t_s=device_t_s)) == after_us


@pytest.mark.parametrize(
    ("rr_s", "after_us"),
    [
        pytest.param((0.5, 0.25), 750_000, id="two beats"),
        pytest.param((0.000001,), 1, id="the shortest that can be told"),
        pytest.param((), SECOND_US, id="none: the period"),
        pytest.param((6.0, 5.0), SECOND_US, id="more than can be"),
    ],
)
def test_a_strap_tells_by_its_beats(rr_s: tuple[float, ...], after_us: int) -> None:
    spacing = HeartRateSpacing()
    for number in range(9):
        spacing.after_us(number * SECOND_US, HeartRateSample(0.0, 120.0))

    assert spacing.after_us(9 * SECOND_US, HeartRateSample(0.0, 120.0, True, rr_s)) == after_us


@given(
    st.lists(
        st.tuples(
            st.integers(0, 20_000_000),
            st.none() | st.integers(0, 65_535),
            st.none() | st.floats(-1e6, 1e6),
        ),
        max_size=60,
    )
)
@example([(0, 1, 1.0), (0, 1, 1.0), (0, 0, 0.0)])
def test_nothing_that_a_sensor_says_makes_time_run_backwards(
    packets: list[tuple[int, int | None, float | None]],
) -> None:
    spacing, t_us = OxygenationSpacing(), 0
    for later_us, sequence, device_t_s in packets:
        t_us += later_us
        assert 0 <= spacing.after_us(t_us, reading(sequence, device_t_s)) <= 1_000 * SECOND_US
