"""The real radio, through bleak. Every call to it is bounded in time and its errors translated.

Callbacks are plain functions: they take the time first, copy the bytes and return. An async one
would become a task of its own, stamped late and in any order. `bleak.BleakClient` is looked up when
it is called, so that a program may put a Bluetooth proxy in its place.
"""

from collections.abc import AsyncIterator, Callable, Coroutine
from contextlib import asynccontextmanager
from dataclasses import dataclass
from typing import Any, Final

import bleak
from bleak.args.bluez import BlueZAdapterArgs, BlueZClientArgs, BlueZScannerArgs
from bleak.args.winrt import WinRTClientArgs
from bleak.backends.adapter import BaseBleakAdapter
from bleak.backends.characteristic import BleakGATTCharacteristic
from bleak.backends.client import BaseBleakClient
from bleak.backends.device import BLEDevice
from bleak.backends.scanner import AdvertisementData, BaseBleakScanner

from livemon.errors import LinkLost, RadioError
from livemon.link.bleak_errors import translated
from livemon.link.bounded import bounded
from livemon.link.radio import Channel, Link, OnPayload, Opening, Sighting
from livemon.link.trouble import CharacteristicMissing

#: D-Bus calls normally take milliseconds, but have been seen to stall; starting a scan may wait
#: for the adapter to wake.
_SCAN_WITHIN_S: Final = 10.0
_CALL_WITHIN_S: Final = 5.0

_MACOS_NOTICE: Final = (
    "livemon now uses Bluetooth. If this window vanishes, allow Bluetooth for your terminal under"
    " System Settings › Privacy & Security › Bluetooth, and start again."
)


@dataclass(frozen=True, slots=True)
class Backends:
    """Stand-ins for the system's Bluetooth, as bleak takes them; None takes the system's own."""

    scanner: type[BaseBleakScanner] | None = None
    client: type[BaseBleakClient] | None = None
    adapter: type[BaseBleakAdapter] | None = None


class BleakRadio:
    """One Bluetooth adapter of this computer.

    Args:
        now_ns: the session's clock, read in the first line of each notification.
        system: `platform.system()`; on macOS a notice goes out before the first use.
        announce: shows a line to the person, at once.
        adapter: which adapter on Linux, as in "hci1"; None takes the system's choice.
    """

    def __init__(
        self,
        now_ns: Callable[[], int],
        *,
        system: str,
        announce: Callable[[str], None],
        adapter: str | None = None,
        backends: Backends = Backends(),
    ) -> None:
        self._now_ns = now_ns
        self._notice = _MACOS_NOTICE if system == "Darwin" else None
        self._announce = announce
        self._adapter = adapter
        self._backends = backends

    @asynccontextmanager
    async def scanning(self, on_sighting: Callable[[Sighting], None]) -> AsyncIterator[None]:
        """Scan inside the `async with`; see `Radio`."""
        self._give_notice()

        def heard(device: BLEDevice, advert: AdvertisementData) -> None:
            on_sighting(_sighting(device, advert))

        bluez: BlueZScannerArgs = {"adapter": self._adapter} if self._adapter else {}
        scanner = bleak.BleakScanner(heard, bluez=bluez, backend=self._backends.scanner)
        started = False
        try:
            with translated("starting a scan"):
                await bounded(scanner.start(), _SCAN_WITHIN_S)
            started = True
        finally:
            if not started:  # also when we are cancelled: the system may have begun to scan
                await _abandon(scanner.stop())
        try:
            yield
        finally:
            with translated("stopping the scan"):
                await bounded(scanner.stop(), _CALL_WITHIN_S)

    async def open_link(
        self, sighting: Sighting, opening: Opening, on_closed: Callable[[], None]
    ) -> Link:
        """Open a link to a device just seen; see `Radio`."""
        self._give_notice()
        if not isinstance(sighting.device, BLEDevice):
            raise LinkLost("this sensor has not been seen by the system's Bluetooth")
        bluez: BlueZClientArgs = {"adapter": self._adapter} if self._adapter else {}
        winrt: WinRTClientArgs = {"use_cached_services": False} if opening.fresh_services else {}
        client = bleak.BleakClient(
            sighting.device,
            lambda _: on_closed(),
            timeout=opening.within_s,
            pair=opening.pair,
            bluez=bluez,
            winrt=winrt,
            backend=self._backends.client,
        )
        opened = False
        try:
            with translated("opening the link"):
                await bounded(client.connect(), opening.within_s)
            opened = True
        finally:
            if not opened:  # also when we are cancelled: the system may hold half a link
                await _abandon(client.disconnect())
        return BleakLink(client, self._now_ns)

    async def held(self, services: frozenset[str]) -> tuple[Sighting, ...]:
        """Return devices that this computer holds a link to; see `Radio`."""
        self._give_notice()
        if not hasattr(bleak, "BleakAdapter"):  # came with bleak 3.1
            return ()
        bluez: BlueZAdapterArgs = {"adapter": self._adapter} if self._adapter else {}
        with translated("asking for open links"):
            try:
                adapter = await bounded(
                    bleak.BleakAdapter.get(bluez=bluez, backend=self._backends.adapter),
                    _CALL_WITHIN_S,
                )
                devices = await bounded(
                    adapter.get_connected_devices(sorted(services)), _CALL_WITHIN_S
                )
            except NotImplementedError:  # some systems can't tell
                return ()
        return tuple(
            Sighting(device.address, device.name, None, frozenset(), device) for device in devices
        )

    def _give_notice(self) -> None:
        """Warn before macOS asks, because it ends the whole process where it may not ask."""
        if self._notice is not None:
            self._announce(self._notice)
            self._notice = None


class BleakLink:
    """An open link; made by `BleakRadio`."""

    def __init__(self, client: bleak.BleakClient, now_ns: Callable[[], int]) -> None:
        self._client = client
        self._now_ns = now_ns

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
                _CALL_WITHIN_S,
            )

    async def read(self, characteristic: str) -> bytes:
        """Return the value of a characteristic."""
        with translated("reading"):
            found = self._find(characteristic, None)
            return bytes(await bounded(self._client.read_gatt_char(found), _CALL_WITHIN_S))

    async def write(self, characteristic: str, payload: bytes, *, response: bool) -> None:
        """Write a characteristic."""
        with translated("writing"):
            found = self._find(characteristic, None)
            await bounded(
                self._client.write_gatt_char(found, payload, response=response), _CALL_WITHIN_S
            )

    async def close(self) -> None:
        """End the link."""
        with translated("ending the link"):
            await bounded(self._client.disconnect(), _CALL_WITHIN_S)

    def _find(self, uuid: str, service: str | None) -> BleakGATTCharacteristic:
        """Return the first match: two services may carry the same characteristic."""
        for characteristic in self._client.services.characteristics.values():
            if characteristic.uuid == uuid and service in {None, characteristic.service_uuid}:
                return characteristic
        raise CharacteristicMissing(uuid)


async def _abandon(ending: Coroutine[Any, Any, None]) -> None:
    """End what may have been begun only half, whatever becomes of it."""
    try:
        with translated("giving up"):
            await bounded(ending, _CALL_WITHIN_S)
    except (LinkLost, RadioError):
        return  # there was nothing to end


def _sighting(device: BLEDevice, advert: AdvertisementData) -> Sighting:
    return Sighting(
        address=device.address,
        name=advert.local_name or device.name,
        rssi_dbm=advert.rssi,
        services=frozenset(uuid.lower() for uuid in advert.service_uuids),
        device=device,
    )
