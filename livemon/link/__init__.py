"""Bluetooth: supervision, the real radio and a simulated one."""
