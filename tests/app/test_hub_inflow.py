"""What relays sent enters the session in one order, and the session's time leaves it room."""

import pytest

from livemon.app.hub_inflow import HubInflow
from livemon.errors import UsageError
from livemon.events import LinkUp

MS = 1_000_000


def test_events_of_two_relays_come_in_the_order_of_their_times() -> None:
    inflow = HubInflow()
    inflow.put("r1", [LinkUp(10 * MS, "r1.s"), LinkUp(30 * MS, "r1.t")])
    inflow.put("r2", [LinkUp(20 * MS, "r2.s")])

    assert [event.sensor for event in inflow.due(20 * MS)] == ["r1.s", "r2.s"]
    assert [event.sensor for event in inflow.due(80 * MS)] == ["r1.t"]


def test_nobody_waits_for_a_relay_that_left() -> None:
    inflow = HubInflow()
    inflow.put("r1", [LinkUp(10 * MS, "r1.s")])
    inflow.put("r2", [LinkUp(20 * MS, "r2.s")])
    inflow.forget("r1")

    assert len(list(inflow.due(20 * MS))) == 2


def test_an_event_that_was_under_way_keeps_its_time() -> None:
    """Ticks must not pass it by: gathered for 20 ms, and neighbours waited for 40 ms more."""
    inflow = HubInflow()

    assert inflow.settled_ns(1000 * MS) <= (1000 - 20 - 40) * MS
    assert inflow.settled_ns(0) == 0


def test_it_ends_the_session_when_the_network_is_gone_for_good() -> None:
    inflow = HubInflow()
    inflow.fail(UsageError("the broker does not let us in"))

    with pytest.raises(UsageError, match="let us in"):
        list(inflow.due(0))
