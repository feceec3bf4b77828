"""In which units an oximeter tells haemoglobin: what its adapter says, by sensor and channel."""

from dataclasses import dataclass
from typing import Final

from livemon.decode.adapter import Adapter, parse_adapter
from livemon.decode.layout import Quantity
from livemon.events import Head, Sensor


@dataclass(frozen=True, slots=True)
class Units:
    """Units of one channel; empty where it has no such field."""

    thb: str = ""
    o2hb: str = ""
    hhb: str = ""


_NO_UNITS: Final = Units()


class ChannelUnits:
    """Looks units up; reads each adapter once."""

    __slots__ = ("_adapters", "_by_sensor")

    def __init__(self, head: Head) -> None:
        self._adapters = {name: parse_adapter(text, where=name) for name, text in head.adapters}
        self._by_sensor: dict[str, tuple[Units, ...]] = {}
        for sensor in head.sensors:
            self.add(sensor)

    def add(self, sensor: Sensor, adapter_text: str | None = None) -> None:
        """Note by which adapter `sensor` is read from now on."""
        if sensor.adapter is not None and adapter_text is not None:
            self._adapters[sensor.adapter] = parse_adapter(adapter_text, where=sensor.adapter)
        adapter = self._adapters.get(sensor.adapter or "")
        self._by_sensor[sensor.sensor] = () if adapter is None else _units(adapter)

    def of(self, sensor: str, channel: int) -> Units:
        """Return the units of one channel."""
        units = self._by_sensor.get(sensor, ())
        return units[channel] if channel < len(units) else _NO_UNITS


def _units(adapter: Adapter) -> tuple[Units, ...]:
    found: list[dict[Quantity, str]] = [{} for _ in adapter.channels]
    for field in adapter.layout.fields:
        for place, channel in enumerate(found):
            if field.channel in (place, None):
                channel[field.quantity] = field.unit
    return tuple(
        Units(one.get(Quantity.THB, ""), one.get(Quantity.O2HB, ""), one.get(Quantity.HHB, ""))
        for one in found
    )
