"""The small parts of supervision by themselves: waits, silence, doubles, bounds, words, lists."""

import asyncio
import gc
from itertools import islice
from random import Random

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from link_gym import Gym, remembered, strap

from livemon.errors import RadioError
from livemon.link.backoff import CEILING_S, backoff, opening_times
from livemon.link.bounded import TookTooLong, bounded
from livemon.link.details import read_details, read_serial
from livemon.link.doubles import WINDOW_NS, DoubleGuard
from livemon.link.farewell import Farewell
from livemon.link.hints import hint
from livemon.link.look import check_radio, look_around
from livemon.link.nearby import Nearby, survey
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.radio import Sighting
from livemon.link.silence import SECOND_NS, Patience, Silence, silence
from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually
from livemon.link.status import Cause, Details, LinkState

# --- waits


@given(st.integers(), st.floats(0.01, 5), st.floats(0.01, 60))
def test_waits_grow_to_a_ceiling_and_are_shortened_by_half_at_most(
    seed: int, first_s: float, ceiling_s: float
) -> None:
    waits = list(islice(backoff(Random(seed), first_s=first_s, ceiling_s=ceiling_s), 30))

    full = [min(first_s * 2**n, ceiling_s) for n in range(30)]
    assert all(f / 2 <= wait <= f for wait, f in zip(waits, full, strict=True))


def test_while_people_work_out_no_wait_is_longer_than_two_seconds() -> None:
    assert max(islice(backoff(Random(1)), 1000)) <= CEILING_S == 2.0


def test_sensors_that_dropped_together_do_not_come_back_together() -> None:
    chance = Random(3)
    assert len({next(backoff(chance)) for _ in range(24)}) == 24


def test_attempts_are_given_more_and_more_time() -> None:
    times = list(islice(opening_times(), 8))

    assert times[0] == 6.0
    assert times == sorted(times)
    assert times[-1] == 20.0


# --- silence


@pytest.mark.parametrize(
    ("period_s", "stale_s", "dead_s"),
    [
        pytest.param(1.0, 3, 12, id="a strap at 1 Hz"),
        pytest.param(0.1, 3, 12, id="10 Hz: three seconds at least"),
        pytest.param(2.0, 6, 12, id="0.5 Hz: three periods"),
        pytest.param(10.0, 30, 40, id="one that sends rarely"),
    ],
)
def test_patience_suits_the_period(period_s: float, stale_s: int, dead_s: int) -> None:
    patience = Patience.for_period(period_s)

    assert patience == Patience(stale_s * SECOND_NS, dead_s * SECOND_NS)
    assert silence(stale_s * SECOND_NS - 1, 0, patience) is Silence.NONE
    assert silence(stale_s * SECOND_NS, 0, patience) is Silence.STALE
    assert silence(dead_s * SECOND_NS - 1, 0, patience) is Silence.STALE
    assert silence(dead_s * SECOND_NS, 0, patience) is Silence.DEAD


# --- doubles


@example([(0, "a", b"x"), (WINDOW_NS, "a", b"x")])
@example([(0, "a", b"x"), (WINDOW_NS + 1, "a", b"x")])
@example([(0, "a", b"x"), (1, "a", b"y"), (2, "a", b"x")])
@example([(0, "a", b"x"), (0, "b", b"x")])
@given(
    st.lists(
        st.tuples(st.integers(0, 10**8), st.sampled_from("ab"), st.sampled_from([b"x", b"y"])),
        max_size=20,
    ).map(sorted)
)
def test_only_the_same_bytes_on_the_same_characteristic_within_20_ms_are_doubles(
    packets: list[tuple[int, str, bytes]],
) -> None:
    guard = DoubleGuard()
    kept: list[tuple[int, str, bytes]] = []
    for t_ns, uuid, payload in packets:
        before = [one for one in kept if one[1] == uuid][-1:]
        expected = bool(before) and before[0][2] == payload and t_ns - before[0][0] <= 20_000_000
        assert guard.is_double(t_ns, uuid, payload) is expected
        if not expected:
            kept.append((t_ns, uuid, payload))


# --- bounds


def test_a_call_in_time_gives_its_result_or_its_error() -> None:
    async def gives(value: int) -> int:
        await asyncio.sleep(1)
        return 10 // value

    assert run_virtually(bounded(gives(5), 2.0)) == 2
    with pytest.raises(ZeroDivisionError):
        run_virtually(bounded(gives(0), 2.0))


def test_a_call_that_ignores_its_cancellation_is_left_behind() -> None:
    async def stubborn() -> None:
        for _ in range(3):
            try:
                await asyncio.sleep(10)
            except asyncio.CancelledError:
                await asyncio.sleep(10)

    async def main() -> float:
        loop = asyncio.get_running_loop()
        with pytest.raises(TookTooLong):
            await bounded(stubborn(), 2.0)
        return loop.time()

    assert run_virtually(main()) == pytest.approx(2.5)


def test_an_error_that_comes_after_we_were_cancelled_is_nobodys(
    caplog: pytest.LogCaptureFixture,
) -> None:
    async def fails_late() -> None:
        try:
            await asyncio.sleep(10)
        finally:
            raise ZeroDivisionError

    async def main() -> None:
        task = asyncio.create_task(bounded(fails_late(), 20.0))
        await asyncio.sleep(1)
        task.cancel()
        await asyncio.wait({task})
        assert task.cancelled()

    run_virtually(main())
    gc.collect()
    assert caplog.text == ""


# --- farewells


class Slow:
    """A link that takes its time to end."""

    def __init__(self, takes_s: float) -> None:
        self.ended = False
        self._takes_s = takes_s

    async def close(self) -> None:
        await asyncio.sleep(self._takes_s)
        self.ended = True


def test_a_farewell_goes_on_although_whoever_waits_for_it_is_cancelled() -> None:
    async def main() -> None:
        farewell, link = Farewell(), Slow(1.0)
        waiting = asyncio.create_task(farewell.close(link))
        await asyncio.sleep(0.5)
        waiting.cancel()
        await asyncio.wait({waiting})
        assert not link.ended
        await farewell.finish()
        assert link.ended

    run_virtually(main())


def test_a_farewell_has_its_limit() -> None:
    async def main() -> float:
        await Farewell().close(Slow(60.0))
        return asyncio.get_running_loop().time()

    assert run_virtually(main()) == pytest.approx(5.0)


# --- virtual time


def test_an_hour_passes_at_once_and_in_order() -> None:
    async def main() -> list[str]:
        order: list[str] = []

        async def after(wait_s: float, name: str) -> None:
            await asyncio.sleep(wait_s)
            order.append(f"{name} at {asyncio.get_running_loop().time():.0f}")

        await asyncio.gather(after(3600, "late"), after(1, "early"), after(60, "between"))
        return order

    assert run_virtually(main()) == ["early at 1", "between at 60", "late at 3600"]


def test_a_wait_that_nothing_can_end_is_an_error_and_not_a_hang() -> None:
    async def main() -> None:
        await asyncio.Event().wait()

    with pytest.raises(RuntimeError, match="hang for ever"):
        run_virtually(main())


# --- words


def words(state: LinkState, **facts: object) -> str:
    known = {
        "missing_s": 0.0,
        "links": 0,
        "cause": Cause.NONE,
        "busy": False,
        "trouble": "",
        "problem": "",
    }
    return hint(state, **(known | facts))


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        pytest.param({"missing_s": 9.9}, "", id="too early to say"),
        pytest.param({"missing_s": 10.0}, "Not heard for 10 s", id="after ten seconds"),
        pytest.param({"links": 4, "cause": Cause.NOT_FOUND}, "may be full (4 links", id="full"),
        pytest.param({"links": 3, "cause": Cause.NOT_FOUND}, "", id="three links are not full"),
        pytest.param({"busy": True, "missing_s": 29.9}, "Not heard", id="busy for a while"),
        pytest.param({"busy": True, "missing_s": 30.0}, "unplug and replug", id="stuck"),
        pytest.param({"trouble": "Off.", "missing_s": 99.0}, "Off.", id="Bluetooth itself"),
        pytest.param({"cause": Cause.MISTAKE}, "made a mistake", id="our own"),
        pytest.param({"problem": "it went"}, "It went; trying again.", id="just lost"),
    ],
)
def test_a_search_says_what_may_be_wrong(facts: dict[str, object], said: str) -> None:
    found = words(LinkState.SEARCHING, **facts)

    assert (said in found) if said else found == ""


@pytest.mark.parametrize("state", list(LinkState))
def test_every_state_has_its_words(state: LinkState) -> None:
    said = words(state, missing_s=60.0, problem="the sensor wants a pairing first")

    assert (said == "") is (state in {LinkState.LIVE, LinkState.STOPPED})
    assert said == said.strip()


# --- details


class Gone:
    """A link whose Bluetooth service died."""

    @property
    def characteristics(self) -> frozenset[str]:
        raise RadioError("The Bluetooth service does not run on this computer.")


def test_what_cannot_be_read_is_not_known() -> None:
    assert run_virtually(read_details(Gone())) == Details()
    assert run_virtually(read_serial(Gone())) is None


# --- lists


KINDS = {HEART_RATE_SERVICE: "heart rate strap"}


def test_matching_devices_come_first_then_the_strongest_and_the_rest_on_request() -> None:
    nearby, known = Nearby(), strap(1)
    for sighting in (
        Sighting("AA", "Lamp", -30, frozenset()),
        Sighting("BB", "Strap far", -90, frozenset({HEART_RATE_SERVICE})),
        Sighting("CC", "Strap near", -50, frozenset({HEART_RATE_SERVICE})),
        Sighting(known.address, "silent about itself", -95, frozenset()),
    ):
        nearby.heard(5, sighting)
    registry = (remembered("s1", known),)

    some = survey(nearby.at(10), registry, "this computer", KINDS)
    every = survey(nearby.at(10), registry, "this computer", KINDS, everything=True)

    assert [device.name for device in some] == ["Strap near", "Strap far", "silent about itself"]
    assert [device.sensor for device in some] == [None, None, "s1"]
    assert [device.name for device in every] == [*(device.name for device in some), "Lamp"]


def test_a_name_that_came_once_stays() -> None:
    """A scan response brings the name; the packets between leave it out."""
    nearby = Nearby()
    nearby.heard(0, Sighting("AA", None, -60, frozenset()))
    nearby.heard(1, Sighting("AA", "Strap", -61, frozenset({HEART_RATE_SERVICE})))
    nearby.heard(2, Sighting("AA", None, -62, frozenset()))

    (seen,) = nearby.at(3)

    assert seen.sighting == Sighting("AA", "Strap", -62, frozenset({HEART_RATE_SERVICE}))
    assert (seen.first_ns, seen.last_ns) == (0, 2)


def test_looking_around_lists_what_is_in_the_air_and_what_is_held() -> None:
    async def main() -> None:
        gym = Gym({"one": strap(1), "two": strap(2)})
        for device in gym.sensors.values():
            gym.air.add(device)
        gym.air.leave_orphan(gym.sensors["two"])
        found = await look_around(gym.radio, 3.0, (), "x", KINDS, now_ns=gym.now_ns)
        assert [(device.name, device.held) for device in found] == [
            ("Strap 1", False),
            ("Strap 2", True),
        ]
        gym.air.close()

    run_virtually(main())


def test_a_check_before_the_start_says_that_bluetooth_is_off() -> None:
    async def main() -> None:
        gym = Gym({})
        await check_radio(gym.radio)
        gym.air.switch_off()
        with pytest.raises(RadioError, match="switched off"):
            await check_radio(gym.radio)

    run_virtually(main())


def test_loops_of_two_runs_begin_at_zero() -> None:
    async def main() -> int:
        loop = asyncio.get_running_loop()
        assert isinstance(loop, VirtualTimeLoop)
        return loop.now_ns()

    assert run_virtually(main()) == run_virtually(main()) == 0
