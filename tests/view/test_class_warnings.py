"""A class that paces well leaves its coach in peace; and the whole way calms what does come.

The full measure, an hour of 24 athletes for several seeds, is benchmarks/class_hour.py. Here is a
shorter hour-share of it, seeded, through session, conduct and sound alike.
"""

from dataclasses import replace

import pytest
import scenes
from paced_class import class_events, class_head

from livemon.monitor.session import Session
from livemon.monitor.snapshot import LaneState
from livemon.view.conduct import (
    NOTHING_YET,
    Conduct,
    Stage,
    acknowledge,
    observe,
    put_back,
    set_aside,
)
from livemon.view.sounding import Sounding
from livemon.warn.priority import Priority

MOST_PER_H = 6
ATHLETES, MINUTES = 24, 8


@pytest.mark.parametrize("drains", [0, 3])
def test_a_class_of_24_that_paces_well_calls_seldom_and_who_drains_is_not_missed(
    drains: int,
) -> None:
    conduct = NOTHING_YET
    called: set[tuple[str, float]] = set()

    def tick(session: Session) -> None:
        nonlocal conduct
        snapshot = session.snapshot()
        conduct = observe(conduct, snapshot.lanes, snapshot.t_s)
        called.update((s.athlete, s.on_s) for s in conduct.signals if conduct.calls(s.athlete))

    session = Session(class_head(ATHLETES), each_tick=tick)
    for event in class_events(ATHLETES, MINUTES * 60.0, seed=11, drains=drains):
        session.feed(event)

    who_drains = {f"a{number}" for number in range(1, drains + 1)}
    assert {athlete for athlete, _ in called} >= who_drains
    well_paced = [one for one in called if one[0] not in who_drains]
    assert len(well_paced) <= MOST_PER_H * MINUTES / 60


def lanes(*numbers: int, priority: Priority = Priority.CAUTION) -> list[LaneState]:
    """Return a class of 24 in which these lanes are warned."""
    calm = [replace(scenes.quiet(), athlete=f"a{n}") for n in range(24)]
    warned = scenes.lane(scenes.falling(priority=priority))
    return [
        replace(warned, athlete=f"a{n}") if n in numbers else lane for n, lane in enumerate(calm)
    ]


def calling(conduct: Conduct) -> set[str]:
    return {f"a{n}" for n in range(24) if conduct.calls(f"a{n}")}


def test_a_flood_lets_only_drains_call_and_is_over_when_few_are_new() -> None:
    conduct = observe(NOTHING_YET, lanes(*range(10)), 0.0)
    assert len(calling(conduct)) == 10
    conduct = observe(conduct, lanes(*range(11)), 1.0)
    assert conduct.flood.on
    assert calling(conduct) == set()
    assert Sounding().next(conduct, 1.0)[1] is None

    drained = observe(
        conduct, [*lanes(*range(11))[:23], lanes(23, priority=Priority.DRAIN)[23]], 2.0
    )
    assert calling(drained) == {"a23"}
    over = observe(conduct, lanes(*range(11)), 602.0)
    assert not over.flood.on
    assert len(calling(over)) == 11, "nobody has seen them yet"


def test_what_ended_unseen_waits_for_the_coach_and_what_is_set_aside_does_not() -> None:
    conduct = set_aside(observe(NOTHING_YET, lanes(1, 2, 3), 0.0), "a2", 300.0)
    assert calling(conduct) == {"a1", "a3"}
    conduct = acknowledge(conduct, "a3", 5.0)
    conduct = observe(conduct, lanes(), 10.0)

    left = {s.athlete: s.stage for s in conduct.signals}
    assert left == {"a1": Stage.LINGERING}
    assert {s.athlete for s in conduct.log} == {"a2", "a3"}
    assert acknowledge(conduct, "a1", 20.0).signals == ()


def test_a_lane_put_back_or_whose_time_is_up_calls_for_what_is_still_on() -> None:
    conduct = set_aside(observe(NOTHING_YET, lanes(1), 0.0), "a1", 300.0)
    assert calling(observe(conduct, lanes(1), 299.0)) == set()
    assert calling(observe(conduct, lanes(1), 300.0)) == {"a1"}
    assert calling(put_back(conduct, "a1")) == {"a1"}
