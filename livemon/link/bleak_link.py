"""An open link through bleak. Every call to it is bounded in time and its errors translated.

Callbacks are plain functions: they take the time first, copy the bytes and return. An async one
would become a task of its own, stamped late and in any order.
"""

from collections.abc import Callable
from typing import Final

import bleak
from bleak.backends.characteristic import BleakGATTCharacteristic

from livemon.decode.presentation_format import PRESENTATION_FORMAT
from livemon.link.bleak_errors import translated
from livemon.link.bounded import bounded
from livemon.link.radio import Channel, OnPayload
from livemon.link.trouble import CharacteristicMissing

#: D-Bus calls normally take milliseconds, but have been seen to stall.
CALL_WITHIN_S: Final = 5.0


class BleakLink:
    """An open link; made by `BleakRadio`.

    Args:
        within_s: for each call but the farewell.
    """

    def __init__(
        self, client: bleak.BleakClient, now_ns: Callable[[], int], within_s: float = CALL_WITHIN_S
    ) -> None:
        self._client = client
        self._now_ns = now_ns
        self._within_s = within_s

    @property
    def characteristics(self) -> frozenset[str]:
        """UUIDs of all characteristics that the sensor offers."""
        with translated("listing services"):
            offered = self._client.services.characteristics.values()
        return frozenset(characteristic.uuid for characteristic in offered)

    async def subscribe(self, channel: Channel, on_payload: OnPayload, *, acquire: bool) -> None:
        """Have `on_payload` called for each notification; see `Link`."""
        now_ns = self._now_ns

        def notified(_: BleakGATTCharacteristic, data: bytearray) -> None:
            t_ns = now_ns()
            on_payload(t_ns, bytes(data))

        with translated("subscribing"):
            found = self._find(channel.characteristic, channel.service)
            await bounded(
                self._client.start_notify(
                    found, notified, bluez={"use_start_notify": False} if acquire else {}
                ),
                self._within_s,
            )

    async def read(self, characteristic: str) -> bytes:
        """Return the value of a characteristic."""
        with translated("reading"):
            found = self._find(characteristic, None)
            return bytes(await bounded(self._client.read_gatt_char(found), self._within_s))

    async def described(self, channel: Channel) -> bytes | None:
        """Return the presentation format of a characteristic; see `Link`."""
        with translated("reading a descriptor"):
            found = self._find(channel.characteristic, channel.service)
            formats = [one for one in found.descriptors if one.uuid == PRESENTATION_FORMAT]
            if len(formats) != 1:
                return None
            said = self._client.read_gatt_descriptor(formats[0])
            return bytes(await bounded(said, self._within_s))

    async def write(self, characteristic: str, payload: bytes, *, response: bool) -> None:
        """Write a characteristic."""
        with translated("writing"):
            found = self._find(characteristic, None)
            await bounded(
                self._client.write_gatt_char(found, payload, response=response), self._within_s
            )

    async def close(self) -> None:
        """End the link."""
        with translated("ending the link"):
            await bounded(self._client.disconnect(), CALL_WITHIN_S)

    def _find(self, uuid: str, service: str | None) -> BleakGATTCharacteristic:
        """Return the first match: two services may carry the same characteristic."""
        for characteristic in self._client.services.characteristics.values():
            if characteristic.uuid == uuid and service in {None, characteristic.service_uuid}:
                return characteristic
        raise CharacteristicMissing(uuid)
