"""Gaps in the watch, from clocks that jump. What each clock does in sleep: PEP 418."""

import asyncio

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.events import Gap
from livemon.link.clocks import LIMIT_NS, Clocks, gap_between, read_clocks, watch_clocks
from livemon.link.device_clock import DeviceClock
from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually

SECOND_NS = 1_000_000_000
MINUTES_20 = 20 * 60 * SECOND_NS


def after_a_second(
    session: int = 0, wall: int = 0, boot: int | None = 0, late: int = 0
) -> Gap | None:
    """Say what is found when clocks jumped by so much in one second."""
    before = Clocks(5 * SECOND_NS, 10**18, None if boot is None else 7 * SECOND_NS)
    step = SECOND_NS + late
    after = Clocks(
        before.session_ns + step + session,
        before.wall_ns + step + wall,
        None if boot is None or before.boot_ns is None else before.boot_ns + step + boot,
    )
    return gap_between(before, after, expected_ns=SECOND_NS)


@pytest.mark.parametrize(
    ("jumps", "missed_ns", "reason"),
    [
        pytest.param({"wall": MINUTES_20, "boot": MINUTES_20}, MINUTES_20, "slept", id="Linux"),
        pytest.param({"wall": MINUTES_20, "boot": None}, MINUTES_20, "slept or its", id="macOS"),
        pytest.param(
            {"session": MINUTES_20, "wall": MINUTES_20, "boot": None},
            MINUTES_20,
            "stood still",
            id="Windows, where the monotonic clock goes on",
        ),
        pytest.param({"late": 5 * SECOND_NS}, 5 * SECOND_NS, "stood still", id="loop blocked"),
        pytest.param({"wall": 3600 * SECOND_NS}, 0, "clock was set", id="set one hour on"),
        pytest.param({"wall": -3600 * SECOND_NS}, 0, "clock was set", id="set one hour back"),
        pytest.param(
            {"wall": -3600 * SECOND_NS, "boot": None}, 0, "clock was set", id="set back, macOS"
        ),
    ],
)
def test_jumps_are_gaps(jumps: dict[str, int | None], missed_ns: int, reason: str) -> None:
    gap = after_a_second(**jumps)

    assert gap is not None
    assert gap.missed_ns == missed_ns
    assert reason in gap.reason


@pytest.mark.parametrize("boot", [0, None])
@given(st.integers(-LIMIT_NS, LIMIT_NS), st.integers(-15_600_000, 15_600_000))
def test_small_steps_and_coarse_clocks_are_no_gaps(
    boot: int | None, wall: int, session: int
) -> None:
    """15.6 ms is the step of the monotonic clock on Windows before Python 3.13."""
    assert after_a_second(session=session, wall=wall + session, boot=boot) is None


def test_the_watch_reports_each_gap_once() -> None:
    async def main() -> list[Gap]:
        loop = asyncio.get_running_loop()
        assert isinstance(loop, VirtualTimeLoop)
        slept_ns = [0]
        gaps: list[Gap] = []

        def read() -> Clocks:
            now_ns = loop.now_ns()
            return Clocks(now_ns, now_ns + slept_ns[0], now_ns + slept_ns[0])

        watch = asyncio.create_task(watch_clocks(read, gaps.append))
        await asyncio.sleep(10.5)
        slept_ns[0] = MINUTES_20
        await asyncio.sleep(10)
        watch.cancel()
        return gaps

    (gap,) = run_virtually(main())

    assert gap == Gap(11 * SECOND_NS, MINUTES_20, "the computer slept")


def test_real_clocks_show_no_gap_between_two_looks() -> None:
    first = read_clocks(lambda: 0)
    second = read_clocks(lambda: 0)

    assert gap_between(first, second, expected_ns=0) is None


@given(
    st.integers(-(10**12), 10**12),
    st.lists(st.integers(0, 200), min_size=1, max_size=100),
)
def test_device_time_takes_delays_away(offset_ns: int, delays_ms: list[int]) -> None:
    """Samples every 100 ms that arrive late: none is dated before it was taken.

    Once one has come without delay, all later ones within the span are dated exactly.
    """
    clock, on_time = DeviceClock(), False
    for number, delay_ms in enumerate(delays_ms):
        device_ns = number * 100_000_000
        taken_ns = device_ns + offset_ns
        dated_ns = clock.taken_ns(taken_ns + delay_ms * 1_000_000, device_ns)
        on_time |= delay_ms == 0
        assert taken_ns <= dated_ns <= taken_ns + delay_ms * 1_000_000
        assert dated_ns == taken_ns or not on_time


def test_a_device_that_restarts_its_clock_is_believed_again() -> None:
    clock = DeviceClock()
    clock.taken_ns(100 * SECOND_NS, 90 * SECOND_NS)

    assert clock.taken_ns(101 * SECOND_NS, 0) == 101 * SECOND_NS


def test_a_sum_of_rr_intervals_is_begun_again_after_lost_beats() -> None:
    """Two beats were lost: the sum lags by two seconds from then on."""
    clock = DeviceClock()
    clock.taken_ns(10 * SECOND_NS, 10 * SECOND_NS)
    clock.restart()

    assert clock.taken_ns(13 * SECOND_NS, 11 * SECOND_NS) == 13 * SECOND_NS


def test_drift_of_the_device_clock_is_followed() -> None:
    """50 ppm for an hour is 180 ms; the envelope of a minute keeps within 3 ms."""
    clock = DeviceClock()
    for second in range(3600):
        taken_ns = second * SECOND_NS
        device_ns = round(taken_ns * (1 - 50e-6))
        assert abs(clock.taken_ns(taken_ns, device_ns) - taken_ns) <= 3_100_000
