"""Fixtures of the network tests."""

from mosquitto_fixtures import mosquitto

__all__ = ["mosquitto"]
