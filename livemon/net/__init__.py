"""MQTT: relay, hub and embedded broker."""
