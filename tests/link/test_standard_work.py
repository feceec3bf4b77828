"""Which measurement of a power meter, foot sensor or machine is read, and what it is called.

Numbers of services and characteristics: Bluetooth SIG, Assigned Numbers, 3.4 and 3.8.
"""

import pytest

from livemon.link.identity import HostAddress, Remembered
from livemon.link.registry_file import format_registry, parse_registry
from livemon.link.standard_work import WORK_CHANNELS, WORK_KINDS, work_kind, work_plan
from livemon.link.trouble import CharacteristicMissing

RSC, CSC = "00002a53-0000-1000-8000-00805f9b34fb", "00002a5b-0000-1000-8000-00805f9b34fb"
POWER, ROWER = "00002a63-0000-1000-8000-00805f9b34fb", "00002ad1-0000-1000-8000-00805f9b34fb"
SPOT, CONTINUOUS = (f"00002a{n}-0000-1000-8000-00805f9b34fb" for n in ("5e", "5f"))


def test_of_several_measurements_the_first_of_a_fixed_order_is_taken() -> None:
    plan = work_plan("s1")

    def chosen(*offered: str) -> list[str]:
        return [one.characteristic for one in plan.chosen(frozenset(offered))]

    assert chosen(CSC, POWER) == [POWER]
    assert chosen(RSC) == [RSC]
    assert chosen(RSC, ROWER, "something else") == [ROWER]
    assert chosen(SPOT, CONTINUOUS) == [CONTINUOUS]
    with pytest.raises(CharacteristicMissing):
        chosen("something else")


def test_each_device_has_a_name_for_people() -> None:
    assert work_kind(frozenset({POWER, CSC})) == "power meter"
    assert work_kind(frozenset({ROWER})) == "machine"
    assert work_kind(frozenset({RSC})) == "foot sensor"
    assert work_kind(frozenset({"something else"})) is None
    assert {channel.service for channel in WORK_CHANNELS} == set(WORK_KINDS)


def test_a_wheel_that_stands_keeps_its_link_through_a_recovery() -> None:
    """Some send nothing while nothing turns; the screen says so long before it is opened anew."""
    patience = work_plan("s1").patience

    assert patience.stale_after_ns <= 5_000_000_000
    assert patience.dead_after_ns >= 300_000_000_000


def test_the_registry_keeps_that_it_measures_work() -> None:
    registry = (
        Remembered("s1", "Pod", "POD-1", None, (HostAddress("here", "C0:01"),), work=True),
        Remembered("s2", "Belt"),
    )

    text = format_registry(registry)

    assert parse_registry(text, where="x") == registry
    assert text.count("work = true") == 1
