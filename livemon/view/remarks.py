"""Quiet words about sensors at the edge of the screen: only what needs a hand soon."""

from livemon.monitor.snapshot import SensorState
from livemon.tongue import said
from livemon.view.words import sentence_case


def remarks(sensors: tuple[SensorState, ...], battery_low_pct: int) -> tuple[str, ...]:
    """Return lost links first, then batteries that run low, the lowest first."""
    lost = [
        said("{sensor}: no link", sensor=sentence_case(sensor.name))
        for sensor in sensors
        if not sensor.linked
    ]
    low = sorted(
        (sensor.battery_pct, sensor.name)
        for sensor in sensors
        if sensor.battery_pct is not None and sensor.battery_pct <= battery_low_pct
    )
    empty = (
        said("{sensor} battery {percent} %", sensor=sentence_case(name), percent=percent)
        for percent, name in low
    )
    return (*lost, *empty)
