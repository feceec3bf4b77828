"""What is listed of what was heard."""

from link_gym import remembered, strap

from livemon.link.nearby import Nearby, survey
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.radio import Sighting

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
