"""Decoders of the standard profiles, by characteristic."""

from collections.abc import Callable
from types import MappingProxyType
from typing import Final

from livemon.decode.battery import BATTERY_LEVEL, decode_battery
from livemon.decode.cycling import CSC_MEASUREMENT, CyclingDecoder
from livemon.decode.cycling_power import CYCLING_POWER_MEASUREMENT, CyclingPowerDecoder
from livemon.decode.fitness_machine import MachineDecoder
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT, decode_heart_rate
from livemon.decode.machine_fields import (
    CROSS_TRAINER,
    INDOOR_BIKE,
    ROWER,
    TREADMILL,
    Machine,
)
from livemon.decode.presentation_format import PRESENTATION_FORMAT, decode_presentation_format
from livemon.decode.pulse_oximeter import (
    CONTINUOUS_MEASUREMENT,
    SPOT_CHECK_MEASUREMENT,
    decode_continuous,
    decode_spot_check,
)
from livemon.decode.running import RSC_MEASUREMENT, decode_running
from livemon.decode.samples import (
    ArterialSample,
    BatterySample,
    HeartRateSample,
    IntensitySample,
    OxygenationSample,
)

Sample = HeartRateSample | OxygenationSample | BatterySample | ArterialSample | IntensitySample

#: Turns payload, arrival time and sensor into samples.
Decode = Callable[[bytes, float, str], tuple[Sample, ...]]


#: Makes the decoder of one sensor; told how far its wheel goes in a revolution, in metres.
Make = Callable[[float | None], Decode]


def _alone(decode: Callable[[bytes, float, str], Sample]) -> Make:
    """Make a decoder like the others of a function that gives one sample and remembers nothing."""

    def told(payload: bytes, t_s: float, sensor: str) -> tuple[Sample, ...]:
        return (decode(payload, t_s, sensor),)

    return lambda _wheel_m: told


def _described(payload: bytes, _t_s: float, _sensor: str) -> tuple[Sample, ...]:
    """Check a descriptor; it says how values are written and is none itself."""
    decode_presentation_format(payload)
    return ()


def _machine(machine: Machine) -> Make:
    return lambda _wheel_m: MachineDecoder(machine).decode


#: By characteristic: makes the decoder of one sensor, which may remember its earlier packets.
STANDARD: Final = MappingProxyType[str, Make](
    {
        HEART_RATE_MEASUREMENT: _alone(lambda payload, t_s, _: decode_heart_rate(payload, t_s)),
        BATTERY_LEVEL: _alone(decode_battery),
        PRESENTATION_FORMAT: lambda _wheel_m: _described,
        SPOT_CHECK_MEASUREMENT: _alone(decode_spot_check),
        CONTINUOUS_MEASUREMENT: _alone(decode_continuous),
        RSC_MEASUREMENT: _alone(decode_running),
        CSC_MEASUREMENT: lambda wheel_m: CyclingDecoder(wheel_m).decode,
        CYCLING_POWER_MEASUREMENT: lambda wheel_m: CyclingPowerDecoder(wheel_m).decode,
        TREADMILL.characteristic: _machine(TREADMILL),
        CROSS_TRAINER.characteristic: _machine(CROSS_TRAINER),
        ROWER.characteristic: _machine(ROWER),
        INDOOR_BIKE.characteristic: _machine(INDOOR_BIKE),
    }
)
