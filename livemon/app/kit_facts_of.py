"""From what the links know to the plain facts that the Kit page shows."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_kinds import kinds_said
from livemon.app.kit_people import People
from livemon.decode.body_location import BodyLocation
from livemon.events import Athlete, Head, Sensor
from livemon.link.identity import Registry, Remembered
from livemon.link.nearby import NearbyDevice
from livemon.link.status import LinkState, LinkStatus
from livemon.view.kit_facts import STRAP, WORK, About, Device, InUse, Known, Standing

#: Every state has its counterpart; the view knows nothing of links.
_STANDING: Final = {state: Standing(state.value) for state in LinkState}
#: "other" tells nobody anything.
_WORN_ON: Final = {
    place: None if place is BodyLocation.OTHER else place.name.lower().replace("_", " ")
    for place in BodyLocation
}


@dataclass(frozen=True, slots=True)
class Use:
    """A sensor in use, who wears it where, and how it is read."""

    sensor: Sensor
    athlete: str | None
    sites: tuple[str, ...]
    work: bool = False
    wheel_m: float | None = None

    @property
    def reading(self) -> str:
        """Return STRAP, WORK or the adapter's name."""
        return self.sensor.adapter or (WORK if self.work else STRAP)


def uses_of(head: Head, work: frozenset[str]) -> dict[str, Use]:
    """Return the sensors that a session begins with, by id; those of `work` measure work."""
    uses = {one.sensor: Use(one, None, (), one.sensor in work) for one in head.sensors}
    for given in head.assigned:
        uses[given.sensor] = replace(
            uses[given.sensor], athlete=given.athlete, sites=given.sites, wheel_m=given.wheel_m
        )
    return uses


def used(use: Use, status: LinkStatus | None, now_ns: int, differs: str = "") -> InUse:
    """Return a sensor in use; without a status nothing is known of its link yet.

    `differs` says where it describes its values otherwise than its adapter does.
    """
    sensor = use.sensor
    return InUse(
        sensor=sensor.sensor,
        name=sensor.name,
        reading=use.reading,
        athlete=use.athlete,
        sites=use.sites,
        standing=Standing.SEARCHING if status is None else _STANDING[status.state],
        battery_pct=None if status is None else status.battery_pct,
        hint=" ".join(words for words in (status.hint if status else "", differs) if words),
        candidates=() if status is None else tuple(
            Device(one.address, one.name, one.address, one.rssi_dbm) for one in status.candidates
        ),
        about=About() if status is None else _about(status, now_ns),
        wheel_m=use.wheel_m,
    )  # fmt: skip


def _about(status: LinkStatus, now_ns: int) -> About:
    details, read_ns = status.details, status.battery_ns
    return About(
        manufacturer=details.manufacturer,
        model=details.model,
        firmware=details.firmware,
        worn_on=None if details.worn_on is None else _WORN_ON[details.worn_on],
        rssi_dbm=status.rssi_dbm,
        battery_age_s=None if read_ns is None else (now_ns - read_ns) / 1e9,
    )


def nearby(
    heard: Iterable[NearbyDevice],
    registry: Registry,
    in_use: set[str],
    adapters: KitAdapters,
    people: People,
    asked: Mapping[str, tuple[str, ...]],
) -> tuple[Device, ...]:
    """Return what isn't in use: what is heard, and after it what is remembered and not heard.

    `asked` is what devices that were opened turned out to be, by address.
    """
    met_before = {one.sensor: one for one in registry}
    devices = []
    met = set(in_use)
    for one in heard:
        if one.sensor in in_use:
            continue
        remembered = met_before.get(one.sensor or "")
        looks_like = one.looks_like or asked.get(one.address, ())
        reading = adapters.reading(looks_like)
        if remembered is not None:
            met.add(remembered.sensor)
            reading = _reading(remembered, adapters)
        kinds = kinds_said(looks_like)
        device = Device(one.address, one.name, one.address, one.rssi_dbm, kinds, reading)
        if remembered is not None:
            usual = _usual(remembered.sensor, people)
            device = replace(  # its line stays the same one whether it is heard or not
                device,
                key=remembered.sensor,
                remembered=remembered.name,
                usual=usual,
                wheel_m=remembered.wheel_m,
            )
        devices.append(device)
    silent = [
        Device(
            one.sensor,
            one.name,
            reading=_reading(one, adapters),
            remembered=one.name,
            usual=_usual(one.sensor, people),
            wheel_m=one.wheel_m,
        )
        for one in registry
        if one.sensor not in met
    ]
    return (*devices, *silent)


def known(people: People) -> tuple[Known, ...]:
    """Return everybody met before."""
    athletes = [entry.athlete for entry in people.roster]
    return tuple(known_as(one) for one in athletes if one.name)


def known_as(athlete: Athlete) -> Known:
    """Return what the page shows of somebody."""
    return Known(athlete.athlete, athlete.name, athlete.band_bpm, athlete.adipose_mm)


def _usual(sensor: str, people: People) -> tuple[str, str]:
    usual = people.usual(sensor)
    if usual is None:
        return "", ""
    athlete, sites = usual
    return athlete.name, sites[0] if len(sites) == 1 else ""


def _reading(met: Remembered, adapters: KitAdapters) -> str | None:
    if met.adapter is None:
        return WORK if met.work else STRAP
    return met.adapter if met.adapter in adapters.names else None
