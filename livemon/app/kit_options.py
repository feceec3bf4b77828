"""Who wears what, as said on the command line."""

import argparse
import re
from dataclasses import dataclass, replace
from typing import Final
from uuid import uuid4

from livemon.app.commands.adapter import text_of
from livemon.decode.adapter import parse_adapter
from livemon.errors import UsageError
from livemon.events import Assigned, Athlete, Sensor
from livemon.link.identity import HostAddress, Registry, Remembered, address_key
from livemon.link.plan import Plan, adapter_plan, heart_rate_plan
from livemon.link.standard_work import work_plan
from livemon.view.wheel_entry import read_wheel_m

_ATHLETE: Final = "a1"
#: As Linux and Windows write a Bluetooth address, or the UUID that macOS hands out instead.
_ADDRESS: Final = re.compile(
    r"(?:[0-9A-Fa-f]{2}[:-]){5}[0-9A-Fa-f]{2}"
    r"|[0-9A-Fa-f]{8}(?:-[0-9A-Fa-f]{4}){3}-[0-9A-Fa-f]{12}"
)
_NARROWEST_BPM: Final = 2


@dataclass(frozen=True, slots=True)
class Kit:
    """One athlete's sensors, and all that is needed to read them."""

    athlete: Athlete
    sensors: tuple[Sensor, ...]
    assigned: tuple[Assigned, ...]
    adapters: tuple[tuple[str, str], ...]
    plans: tuple[Plan, ...]
    registry: Registry


def add_kit_options(parser: argparse.ArgumentParser) -> None:
    """Add who wears what."""
    parser.add_argument("--strap", metavar="WHO", help="heart-rate strap, by name or address")
    parser.add_argument(
        "--oximeter",
        action="append",
        default=[],
        metavar="SITE=WHO",
        help='oximeter on a muscle, by name or address, as "left thigh=OXI-12"; may be repeated',
    )
    parser.add_argument(
        "--adapter",
        action="append",
        default=[],
        metavar="FILE",
        help="how to read the oximeters: an adapter file or the name of a shipped one; "
        "one for all, or one for each in their order",
    )
    parser.add_argument(
        "--intensity",
        action="append",
        default=[],
        metavar="WHO",
        help="power meter, foot, wheel or crank sensor, machine or pulse oximeter of a standard "
        "profile, by name or address; may be repeated",
    )
    parser.add_argument(
        "--wheel",
        type=wheel,
        metavar="METRES",
        help="how far the wheel that an --intensity sensor counts goes in one revolution; "
        "remembered",
    )
    parser.add_argument("--name", default="", help="the athlete's name on the screen")
    parser.add_argument("--band", type=band, metavar="LOW-HIGH", help="heart rate to hold, bpm")


def band(text: str) -> tuple[int, int]:
    """Read a heart-rate band."""
    edges = text.replace("–", "-").split("-")
    if len(edges) != 2 or not all(edge.strip().isdigit() for edge in edges):
        raise argparse.ArgumentTypeError(f"expected two numbers as 142-154, found {text!r}")
    low, high = int(edges[0]), int(edges[1])
    if not (low >= 30 and low + _NARROWEST_BPM <= high <= 250):
        raise argparse.ArgumentTypeError(
            f"expected 30 to 250 bpm with the lower edge first, found {text!r}"
        )
    return low, high


def wheel(text: str) -> float:
    """Read the way of a wheel in one revolution, in metres."""
    try:
        return read_wheel_m(text)
    except UsageError as error:
        raise argparse.ArgumentTypeError(str(error)) from error


def sensors_named(arguments: argparse.Namespace) -> bool:
    """Say whether the options name any sensor."""
    return bool(arguments.strap is not None or arguments.oximeter or arguments.intensity)


def kit_of(arguments: argparse.Namespace, host: str, known: Registry) -> Kit:
    """Return what the options say; a sensor met before keeps its id and its addresses.

    Raises:
        UsageError: nothing is named, or something is said in a way that can't be meant.
        AdapterError: an adapter is wrong.
    """
    worn = [_site_and_who(text) for text in arguments.oximeter]
    if not sensors_named(arguments):
        raise UsageError(
            "no sensor is named. Say which to read, as in: livemon live --strap NAME "
            '--oximeter "left thigh=NAME" --adapter FILE. `livemon demo` needs no sensors.'
        )
    texts = _texts(arguments.adapter, len(worn))
    athlete = Athlete(_ATHLETE, arguments.name or "Athlete", arguments.band)
    kit = Kit(athlete, (), (), (), (), known)
    if arguments.strap is not None:
        met = _met(arguments.strap, "strap", None, kit.registry, host)
        kit = _with(kit, replace(met, work=False), heart_rate_plan(met.sensor))
    for who in arguments.intensity:
        met = _met(who, "work", None, kit.registry, host)
        plan = work_plan(met.sensor)
        met = replace(met, work=True, wheel_m=arguments.wheel or met.wheel_m)
        kit = _with(kit, met, plan, wheel_m=met.wheel_m)
    for (site, who), text in zip(worn, texts, strict=True):
        adapter = parse_adapter(text, where=f"the adapter of {who}")
        met = _met(who, "oximeter", adapter.name, kit.registry, host)
        sites = (site,) if len(adapter.channels) == 1 else _sites(site, adapter.channels)
        plan = adapter_plan(met.sensor, adapter.connection)
        kit = _with(kit, replace(met, work=False), plan, sites=sites)
        kit = replace(kit, adapters=tuple((dict(kit.adapters) | {adapter.name: text}).items()))
    return kit


def _with(
    kit: Kit,
    met: Remembered,
    plan: Plan,
    *,
    sites: tuple[str, ...] = (),
    wheel_m: float | None = None,
) -> Kit:
    """Add one sensor to the kit.

    Raises:
        UsageError: it is worn already.
    """
    if any(met.sensor == sensor.sensor for sensor in kit.sensors):
        raise UsageError(f"{met.name} is named twice; each sensor can be worn in one place only.")
    others = tuple(known for known in kit.registry if known.sensor != met.sensor)
    return replace(
        kit,
        sensors=(*kit.sensors, Sensor(met.sensor, met.name, met.adapter)),
        assigned=(*kit.assigned, Assigned(0, met.sensor, _ATHLETE, sites, wheel_m)),
        plans=(*kit.plans, plan),
        registry=(*others, met),
    )


def _site_and_who(text: str) -> tuple[str, str]:
    site, separator, who = text.partition("=")
    if not separator or not site.strip() or not who.strip():
        raise UsageError(f'--oximeter: expected SITE=WHO, as "left thigh=OXI-12", found {text!r}.')
    return site.strip(), who.strip()


def _sites(site: str, channels: tuple[str, ...]) -> tuple[str, ...]:
    """Name each channel of a sensor that has several."""
    return tuple(f"{site}, {channel}" for channel in channels)


def _texts(named: list[str], oximeters: int) -> list[str]:
    """Return the adapter text of each oximeter."""
    if oximeters and not named:
        raise UsageError(
            "an oximeter needs an adapter: --adapter FILE says how to read it. `livemon adapter "
            "list` names those that come with livemon; docs/adapters.md shows how to write one."
        )
    if len(named) not in {1, oximeters}:
        raise UsageError(f"--adapter: expected one, or one for each of the {oximeters} oximeters.")
    texts = [text_of(one) for one in named]
    return texts if len(texts) == oximeters else texts * oximeters


def _met(who: str, kind: str, adapter: str | None, known: Registry, host: str) -> Remembered:
    """Return the remembered sensor that is called so, or a new one.

    Raises:
        UsageError: several are called so.
    """
    called = [
        one
        for one in known
        if who in {one.sensor, one.name, one.advertised_name}
        or address_key(who) in one.addresses_on(host)
    ]
    if len(called) > 1:
        ids = ", ".join(one.sensor for one in called)
        raise UsageError(f"several remembered sensors are called {who}; name one of {ids}.")
    if called:
        return replace(called[0], adapter=adapter)
    sensor = f"{kind}-{uuid4().hex[:6]}"
    if _ADDRESS.fullmatch(who):
        return Remembered(sensor, who, None, adapter, (HostAddress(host, who),))
    return Remembered(sensor, who, who, adapter)
