"""How to read what measures the work, or arterial saturation, by a standard profile.

Which profile a device speaks shows when it is opened. Of several measurements the first of a fixed
order is taken, and never two: both would count the same wheel or belt, each from its own start.
"""

from types import MappingProxyType
from typing import Final

from livemon.decode.cycling import CSC_MEASUREMENT, CYCLING_SERVICE
from livemon.decode.cycling_power import CYCLING_POWER_MEASUREMENT, CYCLING_POWER_SERVICE
from livemon.decode.machine_fields import (
    CROSS_TRAINER,
    FITNESS_MACHINE_SERVICE,
    INDOOR_BIKE,
    ROWER,
    TREADMILL,
)
from livemon.decode.pulse_oximeter import (
    CONTINUOUS_MEASUREMENT,
    PULSE_OXIMETER_SERVICE,
    SPOT_CHECK_MEASUREMENT,
)
from livemon.decode.running import RSC_MEASUREMENT, RUNNING_SERVICE
from livemon.link.plan import Plan
from livemon.link.radio import Channel
from livemon.link.silence import Patience

#: What says the most comes first: a machine knows power and speed, a power meter its cranks too.
#: A spot check is one reading when it is over, so it comes last.
WORK_CHANNELS: Final = (
    *(
        Channel(machine.characteristic, FITNESS_MACHINE_SERVICE)
        for machine in (TREADMILL, ROWER, INDOOR_BIKE, CROSS_TRAINER)
    ),
    Channel(CYCLING_POWER_MEASUREMENT, CYCLING_POWER_SERVICE),
    Channel(RSC_MEASUREMENT, RUNNING_SERVICE),
    Channel(CSC_MEASUREMENT, CYCLING_SERVICE),
    Channel(CONTINUOUS_MEASUREMENT, PULSE_OXIMETER_SERVICE),
    Channel(SPOT_CHECK_MEASUREMENT, PULSE_OXIMETER_SERVICE),
)

#: By service, in words for people.
WORK_KINDS: Final = MappingProxyType(
    {
        FITNESS_MACHINE_SERVICE: "machine",
        CYCLING_POWER_SERVICE: "power meter",
        RUNNING_SERVICE: "foot sensor",
        CYCLING_SERVICE: "wheel or crank sensor",
        PULSE_OXIMETER_SERVICE: "pulse oximeter (SpO2)",
    }
)

#: They send about once a second, but some stop while nothing turns (common practice, no source); to
#: open the link afresh in each recovery would cost the first seconds of the next bout.
_PERIOD_S: Final = 1.0
_DEAD_AFTER_S: Final = 600.0


def work_plan(sensor: str) -> Plan:
    """Return how to read a sensor or machine that speaks one of these profiles."""
    return Plan(
        sensor,
        first_of=WORK_CHANNELS,
        patience=Patience.for_period(_PERIOD_S, _DEAD_AFTER_S),
    )


def work_kind(characteristics: frozenset[str]) -> str | None:
    """Return in words what offers these characteristics; None if it measures no work."""
    for channel in WORK_CHANNELS:
        if channel.characteristic in characteristics and channel.service is not None:
            return WORK_KINDS[channel.service]
    return None
