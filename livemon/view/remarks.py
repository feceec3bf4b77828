"""Quiet words about sensors at the edge of the screen: only what needs a hand soon."""

from livemon.monitor.snapshot import SensorState
from livemon.view.words import sentence_case


def remarks(sensors: tuple[SensorState, ...], battery_low_pct: int) -> tuple[str, ...]:
    """Return lost links first, then batteries that run low, the lowest first."""
    lost = [f"{sentence_case(sensor.name)}: no link" for sensor in sensors if not sensor.linked]
    low = sorted(
        (sensor.battery_pct, sensor.name)
        for sensor in sensors
        if sensor.battery_pct is not None and sensor.battery_pct <= battery_low_pct
    )
    return (*lost, *(f"{sentence_case(name)} battery {percent} %" for percent, name in low))
