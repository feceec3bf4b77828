"""Who is who: an address decides, a name only where it stands alone; nothing is guessed."""

from dataclasses import replace

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.link.identity import (
    MOST_ADDRESSES,
    NEARBY_NS,
    SETTLE_NS,
    Ambiguous,
    Found,
    HostAddress,
    Registry,
    Remembered,
    Seen,
    find,
    learned,
    owner,
)
from livemon.link.radio import Sighting

HOST = "this computer"
SECOND_NS = 1_000_000_000
ANNA = Remembered("s1", "Anna's strap", "Strap", addresses=(HostAddress(HOST, "AA:01"),))
BEN = Remembered("s2", "Ben's strap", "Strap", addresses=(HostAddress(HOST, "AA:02"),))
CARL = Remembered("s3", "Carl's oximeter", "Oximeter 7")


def seen(address: str, name: str | None, first_s: float = 0.0, last_s: float = 10.0) -> Seen:
    sighting = Sighting(address, name, -60, frozenset())
    return Seen(sighting, round(first_s * SECOND_NS), round(last_s * SECOND_NS))


def look(
    sensor: Remembered,
    registry: Registry,
    *nearby: Seen,
    now_s: float = 10.0,
    since_s: float = 0.0,
    host: str = HOST,
) -> Found | Ambiguous | None:
    return find(
        sensor,
        registry,
        host,
        nearby,
        now_ns=round(now_s * SECOND_NS),
        since_ns=round(since_s * SECOND_NS),
    )


def test_the_address_decides_even_where_names_are_the_same() -> None:
    match = look(ANNA, (ANNA, BEN), seen("AA:02", "Strap"), seen("AA:01", "Strap"))

    assert match == Found(Sighting("AA:01", "Strap", -60, frozenset()), by_name=False)


def test_an_address_may_be_written_in_either_case() -> None:
    mac = Remembered("s4", "x", addresses=(HostAddress(HOST, "5f2a9c1e-AB"),))

    assert isinstance(look(mac, (mac,), seen("5F2A9C1E-ab", None)), Found)


def test_only_what_was_heard_since_the_link_was_lost_can_be_opened() -> None:
    assert look(ANNA, (ANNA,), seen("AA:01", "Strap", last_s=4.9), since_s=5.0) is None


def test_a_name_that_stands_alone_is_enough_once_it_has_stood_for_a_while() -> None:
    settle_s = SETTLE_NS / SECOND_NS
    new = seen("BB:09", "Oximeter 7", first_s=1.0)

    assert look(CARL, (CARL,), new, now_s=1.0 + settle_s - 0.01) is None
    assert look(CARL, (CARL,), new, now_s=1.0 + settle_s) == Found(new.sighting, by_name=True)


def test_two_devices_of_the_name_are_for_a_person_to_tell_apart() -> None:
    one, other = seen("BB:08", "Oximeter 7"), seen("BB:09", "Oximeter 7", first_s=9.0)

    assert look(CARL, (CARL,), one, other) == Ambiguous((one.sighting, other.sighting), ())


def test_a_second_device_counts_as_long_as_it_is_nearby() -> None:
    gone_s = NEARBY_NS / SECOND_NS
    one = seen("BB:08", "Oximeter 7", first_s=90, last_s=99)
    other = seen("BB:09", "Oximeter 7", last_s=99 - gone_s)

    assert isinstance(look(CARL, (CARL,), one, other, now_s=99), Ambiguous)
    assert isinstance(look(CARL, (CARL,), one, other, now_s=99.1), Found)


def test_a_device_that_is_somebody_elses_is_no_candidate() -> None:
    nameless = replace(ANNA, addresses=())

    assert (
        look(nameless, (nameless, replace(BEN, advertised_name="Other")), seen("AA:02", "Strap"))
        is None
    )


def test_two_remembered_sensors_of_one_name_are_never_told_apart_by_it() -> None:
    stranger = seen("CC:01", "Strap")

    assert look(ANNA, (ANNA, BEN), stranger) == Ambiguous((stranger.sighting,), ("s2",))


def test_addresses_of_another_computer_say_nothing_here() -> None:
    assert look(ANNA, (ANNA,), seen("AA:01", None), host="another computer") is None


def test_a_name_is_not_enough_where_an_address_is_known() -> None:
    """The own strap may be off, and this one a stranger's of the same make."""
    elsewhere = replace(CARL, addresses=(HostAddress("another computer", "X"),))
    here = replace(CARL, addresses=(HostAddress(HOST, "AA:03"),))
    new = seen("BB:09", "Oximeter 7")

    for known in (elsewhere, here):
        assert look(known, (known,), new) == Ambiguous((new.sighting,), ())


def test_a_name_is_enough_where_the_serial_number_or_a_changing_address_is_known() -> None:
    here = (HostAddress(HOST, "AA:03"),)
    changing = replace(CARL, addresses=(*here, HostAddress(HOST, "AA:04")))
    new = seen("BB:09", "Oximeter 7")

    for known in (changing, replace(CARL, addresses=here, serial="77")):
        assert look(known, (known,), new) == Found(new.sighting, by_name=True)


def test_a_sensor_without_a_name_is_found_by_its_address_only() -> None:
    unnamed = Remembered("s5", "x")

    assert look(unnamed, (unnamed,), seen("DD:01", None)) is None


def test_an_address_that_moves_to_another_sensor_is_taken_from_the_first() -> None:
    here = HostAddress(HOST, "AA:01")
    registry = learned((ANNA, BEN), "s2", here)

    assert owner(registry, HOST, "aa:01") == registry[1]
    assert registry[0].addresses == ()
    assert registry[1].addresses == (HostAddress(HOST, "AA:02"), here)


def test_the_oldest_addresses_of_a_sensor_that_changes_them_are_forgotten() -> None:
    registry: Registry = (CARL,)
    for number in range(MOST_ADDRESSES + 5):
        registry = learned(registry, "s3", HostAddress(HOST, f"{number:04X}"))

    assert len(registry[0].addresses) == MOST_ADDRESSES
    assert registry[0].addresses[-1].address == f"{MOST_ADDRESSES + 4:04X}"


addresses = st.sampled_from([f"{n:02X}" for n in range(6)])
names = st.sampled_from(["Strap", "Strap 2", None])
devices = st.lists(st.tuples(addresses, names), max_size=6, unique_by=lambda one: one[0])
registries = st.lists(
    st.tuples(names, st.lists(addresses, max_size=2, unique=True)), min_size=1, max_size=4
)


@example([("Strap", []), ("Strap", [])], [("00", "Strap")])
@example([("Strap", ["00"]), ("Strap", [])], [("00", "Strap")])
@given(registries, devices)
def test_no_device_is_ever_given_to_two_sensors(
    known: list[tuple[str | None, list[str]]], around: list[tuple[str, str | None]]
) -> None:
    """Whatever is remembered and whatever is near."""
    registry: Registry = tuple(Remembered(f"s{n}", "x", name) for n, (name, _) in enumerate(known))
    for n, (_, own) in enumerate(known):
        for address in own:
            registry = learned(registry, f"s{n}", HostAddress(HOST, address))
    nearby = [seen(address, name) for address, name in around]

    given_to = [
        match.sighting.address
        for sensor in registry
        if isinstance(match := look(sensor, registry, *nearby), Found)
    ]

    assert len(given_to) == len(set(given_to))


@given(devices)
def test_a_roster_from_another_computer_keeps_its_sensors_apart(
    around: list[tuple[str, str | None]],
) -> None:
    """A Windows address in, a macOS UUID learned here: both stay with the same sensor."""
    there = HostAddress("coach's laptop", "C0:00:00:00:00:01")
    known = Remembered("s1", "x", "Strap", addresses=(there,))
    registry: Registry = (known,)
    for address, _ in around:
        registry = learned(registry, "s1", HostAddress(HOST, f"uuid-{address}"))

    assert registry[0].addresses_on("coach's laptop") == {there.address.casefold()}
    assert registry[0].addresses_on(HOST) == {f"uuid-{address}".casefold() for address, _ in around}
