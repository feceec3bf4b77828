"""Find the decoder of each notification: by the sensor's adapter, else by standard profile."""

from collections.abc import Callable, Iterable
from typing import Final

from livemon.decode.adapter import Adapter, parse_adapter
from livemon.decode.battery import BATTERY_LEVEL, decode_battery
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT, decode_heart_rate
from livemon.decode.pulse_oximeter import (
    CONTINUOUS_MEASUREMENT,
    SPOT_CHECK_MEASUREMENT,
    decode_continuous,
    decode_spot_check,
)
from livemon.decode.samples import (
    ArterialSample,
    BatterySample,
    HeartRateSample,
    OxygenationSample,
)
from livemon.errors import AdapterError, DecodeError
from livemon.events import Notification, Sensor

Sample = HeartRateSample | OxygenationSample | BatterySample | ArterialSample

_STANDARD: Final[dict[str, Callable[[bytes, float, str], Sample]]] = {
    HEART_RATE_MEASUREMENT: lambda payload, t_s, _sensor: decode_heart_rate(payload, t_s),
    BATTERY_LEVEL: decode_battery,
    SPOT_CHECK_MEASUREMENT: decode_spot_check,
    CONTINUOUS_MEASUREMENT: decode_continuous,
}

_S: Final = 1e9  # nanoseconds in a second


class Decoders:
    """The decoders of one session."""

    __slots__ = ("_adapters", "_known")

    def __init__(self, sensors: Iterable[Sensor], adapters: Iterable[tuple[str, str]]) -> None:
        """Read the adapters that the sensors name.

        `adapters` are pairs of name and TOML text, as a recording's head has them.

        Raises:
            AdapterError: an adapter text is wrong, or a sensor names one that isn't there.
        """
        self._known = {name: parse_adapter(text, where=name) for name, text in adapters}
        self._adapters: dict[tuple[str, str], Adapter] = {}
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
        t_s = notification.t_ns / _S
        adapter = self._adapters.get((sensor, notification.characteristic))
        if adapter is not None:
            return adapter.decode(payload, t_s, sites=sites, sensor=sensor)
        standard = _STANDARD.get(notification.characteristic)
        if standard is not None:
            return (standard(payload, t_s, sensor),)
        raise DecodeError(notification.characteristic, "no decoder for it", payload)
