"""Fixtures of the Bluetooth tests."""

from bluez_fixtures import bluez, bluez_bus

__all__ = ["bluez", "bluez_bus"]
