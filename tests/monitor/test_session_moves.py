"""A sensor that moves to another muscle or athlete leaves no reading behind."""

from dataclasses import replace

import pytest
from athlete_traces import SETTLED, SETTLED_HEART, falling, held, stream

from livemon.decode.adapter import parse_adapter
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.samples import OxygenationSample
from livemon.decode.shipped import shipped_adapters
from livemon.events import Assigned, Athlete, Head, Mark, Notification, Sensor
from livemon.monitor.changes import WarningOff, WarningOn
from livemon.monitor.session import Session, Told
from livemon.monitor.snapshot import AthleteSnapshot, Trust

ADAPTER = parse_adapter(shipped_adapters()["invented-demo"], where="invented-demo")
ADA, BEN = Athlete("a", "Ada"), Athlete("b", "Ben")
HEAD = Head(
    "2026-11-25T10:00:00+00:00",
    "moves",
    (ADA, BEN),
    (Sensor("strap", "STRAP-1"), Sensor("oxi", "OXI-1", "invented-demo"),
     Sensor("other", "OXI-2", "invented-demo")),
    (("invented-demo", shipped_adapters()["invented-demo"]),),
    (Assigned(0, "strap", "a"), Assigned(0, "oxi", "a", ("left thigh",))),
)  # fmt: skip
SECOND_NS = 1_000_000_000


def strap(second: float, bpm: float) -> Notification:
    payload = bytes((0b110, round(bpm)))  # contact is supported, and there
    return Notification(round(second * SECOND_NS), "strap", HEART_RATE_MEASUREMENT, payload)


def oxi(second: float, pct: float, sensor: str = "oxi") -> Notification:
    values = {"smo2": round(pct, 1), "thb": 12.0, "sequence": int(second) % 256, "contact": 1}
    payload = ADAPTER.encode(values)
    return Notification(round(second * SECOND_NS), sensor, ADAPTER.characteristic, payload)


def fed(session: Session, seconds: range, pct: float = 62.0) -> None:
    for second in seconds:
        session.feed(strap(second, 120))
        session.feed(oxi(second + 0.3, pct))


def lane(session: Session, place: int) -> AthleteSnapshot:
    return session.snapshot().lanes[place].state


def moved(second: float, sensor: str, athlete: str | None, *sites: str) -> Assigned:
    return Assigned(round(second * SECOND_NS), sensor, athlete, sites)


def test_on_another_muscle_the_old_one_is_gone() -> None:
    session = Session(HEAD)
    fed(session, range(20))
    session.feed(moved(20, "oxi", "a", "left calf"))
    (site,) = lane(session, 0).sites
    assert (site.site, site.trust, site.smo2_pct) == ("left calf", Trust.ABSENT, None)
    fed(session, range(21, 40), 71.0)

    (site,) = lane(session, 0).sites
    assert (site.site, site.smo2_pct) == ("left calf", 71.0)


def test_on_another_athlete_the_first_one_has_it_no_more() -> None:
    session = Session(HEAD)
    fed(session, range(20))
    session.feed(moved(20, "oxi", "b", "left thigh"))
    session.feed(moved(20, "strap", "b"))
    fed(session, range(21, 30))

    assert lane(session, 0).sites == ()
    assert lane(session, 0).heart_rate.trust is Trust.ABSENT
    assert lane(session, 0).heart_rate.bpm is None
    assert [site.smo2_pct for site in lane(session, 1).sites] == [62.0]
    assert lane(session, 1).heart_rate.bpm == 120


def test_taken_off_and_worn_again_begins_without_the_old_baseline() -> None:
    """Even on the same muscle it is another placement."""
    session = Session(HEAD)
    fed(session, range(60), 70.0)
    details = (("site", "left thigh"), ("smo2_pct", 70.0))
    session.feed(Mark(60 * SECOND_NS, "m1", "a", "baseline_result", details))
    assert lane(session, 0).sites[0].baseline_pct == 70.0
    session.feed(moved(120, "oxi", None))
    assert lane(session, 0).sites == ()
    session.feed(moved(130, "oxi", "a", "left thigh"))
    fed(session, range(131, 150), 62.0)

    assert lane(session, 0).sites[0].baseline_pct is None


def test_a_place_that_another_sensor_has_taken_stays() -> None:
    """The battery died: a second oximeter goes to the same place before the first is taken off."""
    session = Session(HEAD)
    fed(session, range(20))
    session.feed(moved(20, "other", "a", "left thigh"))
    session.feed(moved(21, "oxi", None))
    session.feed(moved(22, "strap", "a"))  # as before

    assert [site.smo2_pct for site in lane(session, 0).sites] == [62.0]
    assert lane(session, 0).heart_rate.bpm == 120


def test_a_warning_ends_with_its_sensor() -> None:
    told: list[Told] = []
    session = Session(HEAD)
    levels = falling(SETTLED, 8.0, 90)
    for sample in stream(levels, [*held(SETTLED_HEART, 90)]):
        if isinstance(sample, OxygenationSample):
            told += session.feed(oxi(sample.t_s, sample.smo2_pct or 0.0))
        else:
            told += session.feed(strap(sample.t_s, sample.bpm or 0.0))
    assert [type(change) for _, change in told][:1] == [WarningOn]
    assert not any(isinstance(change, WarningOff) for _, change in told)

    told = list(session.feed(moved(len(levels) + 1, "oxi", "b", "left thigh")))

    assert [(who, type(change)) for who, change in told] == [("a", WarningOff)]
    assert isinstance(told[0][1], WarningOff)
    assert told[0][1].reason == "sensor taken off"
    assert session.snapshot().lanes[0].warnings[-1][1] is not None


@pytest.mark.parametrize("sites", [("upper", "lower"), ("lower",)])
def test_of_two_probes_only_those_go_that_moved(sites: tuple[str, ...]) -> None:
    rich = shipped_adapters()["invented-rich"]
    head = replace(
        HEAD,
        sensors=(Sensor("two", "OXI-3", "invented-rich"),),
        adapters=(("invented-rich", rich),),
        assigned=(Assigned(0, "two", "a", ("upper", "middle")),),
    )
    session = Session(head)
    session.feed(moved(1, "two", "a", *sites))

    assert {site.site for site in lane(session, 0).sites} == set(sites)
