"""Who wears what in an imported recording: a sensor for each kind of reading, as in a live one."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Final

from livemon.decode.adapter import parse_adapter
from livemon.events import Assigned, Athlete, Head, Sensor
from livemon.exchange.imported_packets import (
    Packet,
    Values,
    adapter_text,
    heart_packet,
    oximeter_packet,
    power_packet,
    speed_packet,
)
from livemon.exchange.mapping import Mapping, Quantity, Series

_HEART: Final = frozenset({Quantity.HEART_RATE, Quantity.RR})
_MUSCLE: Final = frozenset({Quantity.SMO2, Quantity.THB})


@dataclass(frozen=True, slots=True, eq=False)
class Source:
    """One sensor that an imported file stands for."""

    sensor: Sensor
    athlete: str
    site: str
    series: tuple[Series, ...]
    packet: Callable[[Values], Packet | None]


@dataclass(frozen=True, slots=True, eq=False)
class Kit:
    """All sensors, with the adapters that read them."""

    sources: tuple[Source, ...]
    adapters: tuple[tuple[str, str], ...]

    def head(self, started_utc: str, session: str) -> Head:
        """Return the head of a recording with this kit."""
        return Head(
            started_utc,
            session,
            tuple(Athlete(one, "") for one in dict.fromkeys(s.athlete for s in self.sources)),
            tuple(source.sensor for source in self.sources),
            self.adapters,
            tuple(
                Assigned(0, source.sensor.sensor, source.athlete, _sites(source))
                for source in self.sources
            ),
        )


def kit_of(mapping: Mapping) -> Kit:
    """Return the sensors that the mapping's series come from."""
    together: dict[tuple[str, str, str], list[Series]] = {}
    for one in mapping.series:
        together.setdefault((_kind(one.quantity), one.athlete, one.site), []).append(one)
    adapters: dict[str, str] = {}
    sources = []
    for number, ((kind, athlete, site), series) in enumerate(together.items(), start=1):
        sensor = f"{kind}-{number}"
        adapter: str | None = None
        packet: Callable[[Values], Packet | None] = _PLAIN.get(kind, heart_packet)
        if kind == "oximeter":
            adapter = f"imported-{number}"
            unit = next((one.unit for one in series if one.quantity is Quantity.THB), "a.u.")
            adapters[adapter] = adapter_text(adapter, unit)
            packet = partial(
                oximeter_packet, adapter=parse_adapter(adapters[adapter], where=adapter)
            )
        sources.append(
            Source(
                Sensor(sensor, f"imported {kind}", adapter), athlete, site, tuple(series), packet
            )
        )
    return Kit(tuple(sources), tuple(adapters.items()))


_PLAIN: Final = {"strap": heart_packet, "power": power_packet, "speed": speed_packet}


def _kind(quantity: Quantity) -> str:
    if quantity in _HEART:
        return "strap"
    return "oximeter" if quantity in _MUSCLE else quantity.value


def _sites(source: Source) -> tuple[str, ...]:
    return (source.site,) if source.site else ()
