"""Where a sensor may be worn, and how it is read there. Pure: facts in, an answer or words out."""

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import replace

from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_facts_of import Use
from livemon.errors import UsageError
from livemon.events import Athlete
from livemon.link.identity import HostAddress, Registry, Remembered, address_key
from livemon.link.plan import Plan, adapter_plan, heart_rate_plan
from livemon.link.standard_work import work_plan
from livemon.tongue import said
from livemon.view.kit_facts import STRAP, WORK


def sites_of(reading: str, site: str, adapters: KitAdapters) -> tuple[str, ...]:
    """Return the muscle site of each channel; only an oximeter has one.

    Raises:
        UsageError: it is an oximeter, and no site was said.
    """
    if reading in {STRAP, WORK}:
        return ()
    if not site.strip():
        raise UsageError(said("Say on which muscle the oximeter sits, as in “left thigh”."))
    channels = adapters.read(reading).channels
    if len(channels) == 1:
        return (site.strip(),)
    return tuple(f"{site.strip()}, {channel}" for channel in channels)


def check_place(
    sensor: str,
    reading: str,
    athlete: Athlete | None,
    sites: tuple[str, ...],
    uses: Iterable[Use],
) -> None:
    """Refuse two sensors in one place: their values would be mixed.

    Raises:
        UsageError: nobody is there to wear it, or the place is taken.
    """
    if athlete is None:
        raise UsageError(said("Choose who wears it, or type a name to add somebody."))
    for other in uses:
        if other.sensor.sensor == sensor or other.athlete != athlete.athlete:
            continue
        if reading == STRAP == other.reading:
            raise UsageError(
                said(
                    "{athlete} wears {sensor} already; take it off first.",
                    athlete=athlete.name,
                    sensor=other.sensor.name,
                )
            )
        for site in set(sites) & set(other.sites):
            raise UsageError(
                said(
                    "{sensor} sits on {athlete}'s {site} already.",
                    sensor=other.sensor.name,
                    athlete=athlete.name,
                    site=site,
                )
            )


def check_free(met: Remembered, *, in_use: Container[str], leaving: Container[str]) -> None:
    """Refuse a sensor that is not free.

    Raises:
        UsageError: it is in use, or being set free.
    """
    if met.sensor in in_use:
        raise UsageError(said("{sensor} is in use already; take it off first.", sensor=met.name))
    if met.sensor in leaving:
        raise UsageError(
            said("{sensor} is just being set free; try again in a moment.", sensor=met.name)
        )


def check_athlete_name(athlete: str, name: str, athletes: Iterable[Athlete]) -> None:
    """Refuse a name that would not tell this athlete from the others.

    Raises:
        UsageError: it is empty, or somebody else has it.
    """
    if not name.strip():
        raise UsageError(said("An athlete needs a name, so that nobody is mixed up."))
    for other in athletes:
        if other.athlete != athlete and other.name.casefold() == name.strip().casefold():
            raise UsageError(
                said("{name} is there already; give them a name of their own.", name=other.name)
            )


def check_sensor_name(sensor: str, name: str, uses: Iterable[Use]) -> None:
    """Refuse a name that would not tell this sensor from the others in use.

    Raises:
        UsageError: it is empty, or another sensor has it.
    """
    if not name.strip():
        raise UsageError(said("A sensor needs a name; it may stand on a sticker on the sensor."))
    for other in uses:
        same = other.sensor.name.casefold() == name.strip().casefold()
        if same and other.sensor.sensor != sensor:
            raise UsageError(
                said("{sensor} is in use; give this one another name.", sensor=other.sensor.name)
            )


def text_and_plan(sensor: str, reading: str, adapters: KitAdapters) -> tuple[str | None, Plan]:
    """Return the adapter's text, if there is one, and how the sensor is read."""
    if reading == STRAP:
        return None, heart_rate_plan(sensor)
    if reading == WORK:
        return None, work_plan(sensor)
    return adapters.text(reading), adapter_plan(sensor, adapters.read(reading).connection)


def remembered_as(
    key: str,
    reading: str,
    registry: Registry,
    host: str,
    *,
    names: Mapping[str, str | None],
    wheel_m: float | None = None,
    new_id: Callable[[str], str],
) -> Remembered:
    """Return what is known of the device `key`, or what is to be known of a new one.

    `names` are what devices nearby call themselves, by address.

    Raises:
        UsageError: it is neither known nor nearby.
    """
    work = reading == WORK
    adapter = None if reading in {STRAP, WORK} else reading
    for met in registry:
        if met.sensor == key or address_key(key) in met.addresses_on(host):
            return replace(met, adapter=adapter, work=work, wheel_m=wheel_m)
    if key not in names:
        raise UsageError(said("It is no longer there; wait until it is heard again."))
    sensor = new_id("work" if work else "strap" if adapter is None else "oximeter")
    name = names[key]
    here = (HostAddress(host, key),)
    return Remembered(sensor, name or sensor, name, adapter, here, work=work, wheel_m=wheel_m)
