"""The real radio, through bleak. Every call to it is bounded in time and its errors translated.

`bleak.BleakClient` and `bleak.BleakScanner` are looked up when they are called, so that a program
may put a Bluetooth proxy in their place.
"""

from collections.abc import AsyncIterator, Callable, Coroutine
from contextlib import asynccontextmanager
from dataclasses import dataclass
from typing import Any, Final

import bleak
from bleak.args.bluez import BlueZAdapterArgs, BlueZClientArgs, BlueZScannerArgs
from bleak.args.winrt import WinRTClientArgs
from bleak.backends.adapter import BaseBleakAdapter
from bleak.backends.client import BaseBleakClient
from bleak.backends.device import BLEDevice
from bleak.backends.scanner import AdvertisementData, BaseBleakScanner

from livemon.errors import LinkLost, RadioError
from livemon.link.bleak_errors import translated
from livemon.link.bleak_link import CALL_WITHIN_S, BleakLink
from livemon.link.bounded import bounded
from livemon.link.radio import Link, Opening, Sighting

#: Starting a scan may wait for the adapter to wake.
_SCAN_WITHIN_S: Final = 10.0

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
                await bounded(scanner.stop(), CALL_WITHIN_S)

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
        # Where a pairing is wanted, macOS asks the person at the first call that needs it.
        call_within_s = opening.within_s if opening.pair else CALL_WITHIN_S
        return BleakLink(client, self._now_ns, call_within_s)

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
                    CALL_WITHIN_S,
                )
                devices = await bounded(
                    adapter.get_connected_devices(sorted(services)), CALL_WITHIN_S
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


async def _abandon(ending: Coroutine[Any, Any, None]) -> None:
    """End what may have been begun only half, whatever becomes of it."""
    try:
        with translated("giving up"):
            await bounded(ending, CALL_WITHIN_S)
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
