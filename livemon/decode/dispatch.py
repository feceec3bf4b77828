"""Find the decoder of each notification: by the sensor's adapter, else by standard profile."""

from collections.abc import Iterable
from typing import Final

from livemon.decode.adapter import Adapter, parse_adapter
from livemon.decode.presentation_format import contradictions, decode_presentation_format
from livemon.decode.standard import STANDARD, Decode, Sample
from livemon.errors import AdapterError, DecodeError
from livemon.events import Notification, Sensor

_NS_PER_S: Final = 1e9


class Decoders:
    """The decoders of one session."""

    __slots__ = ("_adapters", "_known", "_standard", "_wheels_m")

    def __init__(self, sensors: Iterable[Sensor], adapters: Iterable[tuple[str, str]]) -> None:
        """Read the adapters that the sensors name.

        `adapters` are pairs of name and TOML text, as a recording's head has them.

        Raises:
            AdapterError: an adapter text is wrong, or a sensor names one that isn't there.
        """
        self._known = {name: parse_adapter(text, where=name) for name, text in adapters}
        self._adapters: dict[tuple[str, str], Adapter] = {}
        self._standard: dict[tuple[str, str], Decode] = {}
        self._wheels_m: dict[str, float] = {}
        for sensor in sensors:
            self.add(sensor)

    def add(self, sensor: Sensor, adapter_text: str | None = None) -> None:
        """Read `sensor` too, by an adapter already known or by `adapter_text`.

        Raises:
            AdapterError: the text is wrong, or the sensor names an adapter that isn't there.
        """
        self._adapters = {at: one for at, one in self._adapters.items() if at[0] != sensor.sensor}
        if sensor.adapter is None:
            return
        if adapter_text is not None:
            self._known[sensor.adapter] = parse_adapter(adapter_text, where=sensor.adapter)
        if sensor.adapter not in self._known:
            names = ", ".join(self._known) or "none"
            found = f"expected one of {names}, found {sensor.adapter!r}"
            raise AdapterError(f"sensor {sensor.name}", "adapter", found)
        adapter = self._known[sensor.adapter]
        self._adapters[sensor.sensor, adapter.characteristic] = adapter

    def on_wheel(self, sensor: str, wheel_m: float | None) -> None:
        """From now on `sensor` counts a wheel that goes so far in a revolution, or none known."""
        if self._wheels_m.get(sensor) == wheel_m:
            return
        self._wheels_m.pop(sensor, None)
        if wheel_m is not None:
            self._wheels_m[sensor] = wheel_m
        self.restart(sensor)

    def contradictions(self, sensor: str, described: bytes) -> tuple[str, ...]:
        """Return where the presentation format that `sensor` gave and its adapter differ.

        Raises:
            DecodeError: it is cut short.
        """
        said = decode_presentation_format(described)
        own = (adapter for (name, _), adapter in self._adapters.items() if name == sensor)
        return tuple(finding for adapter in own for finding in contradictions(adapter, said))

    def restart(self, sensor: str) -> None:
        """Forget what the sensor's earlier packets said: its link was lost, or time was missed.

        Counts of revolutions and half-received records are not carried across.
        """
        self._standard = {at: one for at, one in self._standard.items() if at[0] != sensor}

    def restart_all(self) -> None:
        """Forget what every sensor's earlier packets said: nobody was watching."""
        self._standard = {}

    def decode(
        self, notification: Notification, *, sites: tuple[str, ...] = ()
    ) -> tuple[Sample, ...]:
        """Decode one notification.

        `sites` names the muscle site of each channel of an oximeter; channels beyond them are
        left out.

        Raises:
            DecodeError: the payload does not fit, or nobody knows this characteristic.
        """
        sensor, payload = notification.sensor, notification.payload
        t_s = notification.t_ns / _NS_PER_S
        source = sensor, notification.characteristic
        adapter = self._adapters.get(source)
        if adapter is not None:
            return adapter.decode(payload, t_s, sites=sites, sensor=sensor)
        decode = self._standard.get(source)
        if decode is None:
            make = STANDARD.get(notification.characteristic)
            if make is None:
                raise DecodeError(notification.characteristic, "no decoder for it", payload)
            decode = self._standard[source] = make(self._wheels_m.get(sensor))
        return decode(payload, t_s, sensor)
