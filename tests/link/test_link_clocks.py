"""Gaps in the watch, from clocks that jump. What each clock does in sleep: PEP 418."""

import asyncio

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.events import Gap
from livemon.link.clocks import LIMIT_NS, Clocks, gap_between, read_clocks, watch_clocks
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
