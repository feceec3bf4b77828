"""The fields of the four fitness machines' data characteristics, as tables.

A row is one bit of the flags and what it brings. Bit 0 is the other way round: it says "more
data to come", and the fields of its row are there when it is 0.
Two editions of the standard disagree on the size of two fields. Both are given; see `Row`.
Source: Bluetooth SIG, GATT Specification Supplement, "Rower Data", "Indoor Bike Data", "Treadmill
Data", "Cross Trainer Data"; the 2017 sizes from the SIG's characteristic definitions of the
Fitness Machine Service 1.0.
"""

from dataclasses import dataclass
from typing import Final

from livemon.decode.samples import IntensitySource
from livemon.decode.uuids import sig_uuid

FITNESS_MACHINE_SERVICE: Final = sig_uuid(0x1826)


@dataclass(frozen=True, slots=True)
class Part:
    """One number: value = raw / down.

    Attributes:
        name: what it is, with its unit.
        not_known: raw number that stands for "not available"; these are from memory of the
            Fitness Machine Service 1.0, save a heart rate of 0, which is common sense.
    """

    name: str
    octets: int
    signed: bool = False
    down: int = 1
    not_known: int | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """What one bit of the flags brings."""

    bit: int
    parts: tuple[Part, ...]
    parts_2017: tuple[Part, ...] | None = None  #: where the first edition had another size

    def of(self, *, edition_2017: bool) -> tuple[Part, ...]:
        """Return the parts as an edition has them."""
        return self.parts_2017 if edition_2017 and self.parts_2017 is not None else self.parts


@dataclass(frozen=True, slots=True)
class Machine:
    """One kind of machine."""

    characteristic: str
    source: IntensitySource
    flag_octets: int
    rows: tuple[Row, ...]


# A speed in 0.01 km/h is raw / 360 in m/s.
_SPEED: Final = Row(0, (Part("speed_m_per_s", 2, down=360),))
_AVERAGE_SPEED: Final = Row(1, (Part("average_speed_m_per_s", 2, down=360),))
_DISTANCE: Final = Part("distance_m", 3)
_INCLINE: Final = (
    Part("incline_pct", 2, signed=True, down=10, not_known=0x7FFF),
    Part("ramp_degrees", 2, signed=True, down=10, not_known=0x7FFF),
)
_POWER: Final = (Part("power_w", 2, signed=True, not_known=0x7FFF),)
_AVERAGE_POWER: Final = (Part("average_power_w", 2, signed=True),)
_ENERGY: Final = (
    Part("energy_kcal", 2, not_known=0xFFFF),
    Part("energy_kcal_per_h", 2, not_known=0xFFFF),
    Part("energy_kcal_per_min", 1, not_known=0xFF),
)
_HEART_RATE: Final = (Part("bpm", 1, not_known=0),)
_MET: Final = (Part("met", 1, down=10),)
_ELAPSED: Final = (Part("elapsed_s", 2),)
_REMAINING: Final = (Part("remaining_s", 2),)

# The resistance level has one octet today and had two, signed, in 2017; its number is not used.
_RESISTANCE: Final = (Part("resistance", 1),)
_RESISTANCE_2017: Final = (Part("resistance", 2, signed=True),)

ROWER: Final = Machine(
    sig_uuid(0x2AD1),
    IntensitySource.ROWER,
    2,
    (
        Row(0, (Part("cadence_per_min", 1, down=2), Part("strokes", 2))),
        Row(1, (Part("average_cadence_per_min", 1, down=2),)),
        Row(2, (_DISTANCE,)),
        Row(3, (Part("pace_s_per_500_m", 2),)),
        Row(4, (Part("average_pace_s_per_500_m", 2),)),
        Row(5, _POWER),
        Row(6, _AVERAGE_POWER),
        Row(7, _RESISTANCE, _RESISTANCE_2017),
        Row(8, _ENERGY),
        Row(9, _HEART_RATE),
        Row(10, _MET),
        Row(11, _ELAPSED),
        Row(12, _REMAINING),
    ),
)

INDOOR_BIKE: Final = Machine(
    sig_uuid(0x2AD2),
    IntensitySource.INDOOR_BIKE,
    2,
    (
        _SPEED,
        _AVERAGE_SPEED,
        Row(2, (Part("cadence_per_min", 2, down=2),)),
        Row(3, (Part("average_cadence_per_min", 2, down=2),)),
        Row(4, (_DISTANCE,)),
        Row(5, _RESISTANCE, _RESISTANCE_2017),
        Row(6, _POWER),
        Row(7, _AVERAGE_POWER),
        Row(8, _ENERGY),
        Row(9, _HEART_RATE),
        Row(10, _MET),
        Row(11, _ELAPSED),
        Row(12, _REMAINING),
    ),
)

TREADMILL: Final = Machine(
    sig_uuid(0x2ACD),
    IntensitySource.TREADMILL,
    2,
    (
        _SPEED,
        _AVERAGE_SPEED,
        Row(2, (_DISTANCE,)),
        Row(3, _INCLINE),
        Row(4, (Part("climb_m", 2, down=10), Part("descent_m", 2, down=10))),
        Row(5, (Part("pace_s_per_500_m", 2),), (Part("pace_km_per_min", 1, down=10),)),
        Row(
            6,
            (Part("average_pace_s_per_500_m", 2),),
            (Part("average_pace_km_per_min", 1, down=10),),
        ),
        Row(7, _ENERGY),
        Row(8, _HEART_RATE),
        Row(9, (Part("met", 1),)),
        Row(10, _ELAPSED),
        Row(11, _REMAINING),
        Row(12, (Part("force_n", 2, signed=True), *_POWER)),
    ),
)

CROSS_TRAINER: Final = Machine(
    sig_uuid(0x2ACE),
    IntensitySource.CROSS_TRAINER,
    3,
    (
        _SPEED,
        _AVERAGE_SPEED,
        Row(2, (_DISTANCE,)),
        Row(3, (Part("cadence_per_min", 2), Part("average_cadence_per_min", 2))),
        Row(4, (Part("strides", 2, down=10),)),
        Row(5, (Part("climb_m", 2), Part("descent_m", 2))),
        Row(6, _INCLINE),
        Row(7, _RESISTANCE, _RESISTANCE_2017),
        Row(8, _POWER),
        Row(9, _AVERAGE_POWER),
        Row(10, _ENERGY),
        Row(11, _HEART_RATE),
        Row(12, _MET),
        Row(13, _ELAPSED),
        Row(14, _REMAINING),
    ),
)
