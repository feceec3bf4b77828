"""What the decoders give: samples in physical units, with arrival time.

A value that the sensor did not know is None; it is never 0 and never NaN.
"""

from dataclasses import dataclass
from enum import Enum


@dataclass(frozen=True, slots=True)
class HeartRateSample:
    """One heart rate reading.

    Attributes:
        t_s: arrival time in seconds, from any origin.
        bpm: beats per minute; None where the strap reported none.
        contact: skin contact; None where the strap can't tell.
        rr_s: seconds between beats, oldest first; often empty.
        energy_kj: energy expended since last reset; None where not sent.
        spare_octets: octets of the packet that belong to no field; a sound strap sends none.
    """

    t_s: float
    bpm: float | None
    contact: bool | None = None
    rr_s: tuple[float, ...] = ()
    energy_kj: int | None = None
    spare_octets: int = 0


@dataclass(frozen=True, slots=True)
class OxygenationSample:
    """One muscle oxygenation reading at one site.

    Attributes:
        t_s: arrival time in seconds, from any origin.
        smo2_pct: muscle oxygen saturation; None without contact or where not known.
        thb: total haemoglobin in the adapter's unit (arbitrary in most devices).
        contact: skin contact, where the adapter names a field for it.
        quality_pct: the device's own trust in the reading.
        sequence: packet counter, where the adapter names one.
        device_t_s: the device's own clock, where the adapter names one.
        o2hb: oxygenated haemoglobin in the adapter's unit, where it names a field for it.
        hhb: deoxygenated haemoglobin in the adapter's unit, where it names a field for it.
    """

    t_s: float
    site: str
    smo2_pct: float | None
    thb: float | None = None
    contact: bool | None = None
    quality_pct: float | None = None
    sequence: int | None = None
    device_t_s: float | None = None
    o2hb: float | None = None
    hhb: float | None = None


@dataclass(frozen=True, slots=True)
class BatterySample:
    """A sensor's charge."""

    t_s: float
    sensor: str
    battery_pct: int | None


@dataclass(frozen=True, slots=True)
class ArterialSample:
    """One reading of a pulse oximeter: arterial oxygen saturation, which is not SmO2.

    Attributes:
        t_s: arrival time in seconds, from any origin.
        spo2_pct: arterial saturation by pulse oximetry; None where not known.
        pulse_bpm: pulse rate; None where not known.
        trusted: False where the oximeter itself calls the reading questionable, invalid, a test
            or a demonstration, or its sensor off the person; None where it does not say.
    """

    t_s: float
    sensor: str
    spo2_pct: float | None
    pulse_bpm: float | None
    trusted: bool | None = None


class IntensitySource(Enum):
    """What kind of work a sensor or machine measures."""

    RUNNING = "running"
    CYCLING = "cycling"
    TREADMILL = "treadmill"
    ROWER = "rower"
    INDOOR_BIKE = "indoor bike"
    CROSS_TRAINER = "cross trainer"


@dataclass(frozen=True, slots=True)
class IntensitySample:
    """How hard the work is, as a sensor or a machine measures it.

    Attributes:
        t_s: arrival time in seconds, from any origin.
        power_w: mechanical power; some power meters send it below 0 for moments.
        cadence_per_min: steps, strokes or revolutions a minute, as the source counts them.
        distance_m: in all, since the source began to count.
        incline_pct: of a treadmill or cross trainer.
        bpm: heart rate that the machine passes on; only for want of a strap.
    """

    t_s: float
    sensor: str
    source: IntensitySource
    power_w: float | None = None
    speed_m_per_s: float | None = None
    cadence_per_min: float | None = None
    distance_m: float | None = None
    incline_pct: float | None = None
    bpm: int | None = None
