"""Values of a file as the packets that a sensor would have sent, so that decoding stays one door.

Heart rate is a Heart Rate Measurement (0x2A37), power a Cycling Power Measurement (0x2A63), speed
Treadmill Data (0x2ACD); SmO2 and total haemoglobin have an adapter of their own, with decimal
floats, which keep six digits as they were written.
"""

from collections.abc import Iterator, Mapping, Sequence
from struct import pack
from typing import Final

from livemon.decode.adapter import Adapter
from livemon.decode.cycling_power import CYCLING_POWER_MEASUREMENT
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.machine_fields import TREADMILL
from livemon.errors import UsageError
from livemon.exchange.mapping import Quantity

# Heart Rate Measurement, flags; Bluetooth SIG, Heart Rate Service 1.0.
_RATE_IS_16_BIT: Final = 1 << 0
_HAS_RR_INTERVALS: Final = 1 << 4
_RR_UNITS_PER_S: Final = 1024

#: Of 1/100 km/h in 1 m/s (Fitness Machine Service 1.0, Treadmill Data, Instantaneous Speed).
_SPEED_UNITS: Final = 360

_LARGEST_UINT16: Final = 0xFFFF
_LARGEST_SINT16: Final = 0x7FFF

#: Made up for imported files; no device has it.
_SERVICE: Final = "5a8f2c0e-6d1b-4b8e-9a63-0d3f7f6f1c01"
_CHARACTERISTIC: Final = "5a8f2c0e-6d1b-4b8e-9a63-0d3f7f6f1c02"

#: What one packet says; RR intervals alone may be several.
Values = Mapping[Quantity, tuple[float, ...]]
Packet = tuple[str, bytes]


def adapter_text(name: str, thb_unit: str) -> str:
    """Return the adapter by which an imported oximeter's packets are read."""
    unit = thb_unit.replace("\\", "\\\\").replace('"', '\\"')
    return f"""\
livemon_adapter = 1
name = "{name}"
about = "Readings imported from a file."
service = "{_SERVICE}"
characteristic = "{_CHARACTERISTIC}"

[[field]]
quantity = "smo2"
offset = 0
format = "medfloat32"
valid = [0, 100]

[[field]]
quantity = "thb"
offset = 4
format = "medfloat32"
unit = "{unit}"
valid = [-1000000, 1000000]
"""


def one_by_one(told: Mapping[Quantity, Sequence[float]]) -> Iterator[Values]:
    """Yield what each packet of one moment says: a quantity told twice needs two."""
    single = {quantity: values for quantity, values in told.items() if quantity is not Quantity.RR}
    rr_s = {Quantity.RR: tuple(told[Quantity.RR])} if Quantity.RR in told else {}
    for number in range(max(map(len, single.values()), default=len(rr_s))):
        said: dict[Quantity, tuple[float, ...]] = {
            quantity: (values[number],)
            for quantity, values in single.items()
            if number < len(values)
        }
        yield said | rr_s if number == 0 else said


def heart_packet(values: Values) -> Packet | None:
    """Return the packet of a strap; None where the values don't fit one."""
    rate = round(values.get(Quantity.HEART_RATE, (0.0,))[0])  # 0 is read as "not known"
    units = [round(rr_s * _RR_UNITS_PER_S) for rr_s in values.get(Quantity.RR, ())]
    if not 0 <= rate <= _LARGEST_UINT16 or not all(0 < one <= _LARGEST_UINT16 for one in units):
        return None
    flags = _RATE_IS_16_BIT | (_HAS_RR_INTERVALS if units else 0)
    return HEART_RATE_MEASUREMENT, pack(f"<BH{len(units)}H", flags, rate, *units)


def power_packet(values: Values) -> Packet | None:
    """Return the packet of a power meter; None where the value doesn't fit one."""
    power_w = round(values[Quantity.POWER][0])
    if abs(power_w) > _LARGEST_SINT16:
        return None
    return CYCLING_POWER_MEASUREMENT, pack("<Hh", 0, power_w)


def speed_packet(values: Values) -> Packet | None:
    """Return the packet of a treadmill; None where the value doesn't fit one."""
    units = round(values[Quantity.SPEED][0] * _SPEED_UNITS)
    if not 0 <= units < _LARGEST_UINT16:
        return None
    return TREADMILL.characteristic, pack("<HH", 0, units)


def oximeter_packet(values: Values, adapter: Adapter) -> Packet | None:
    """Return the packet of an imported oximeter; None where the values don't fit one."""
    none = (None,)
    fields = {
        "smo2": values.get(Quantity.SMO2, none)[0],
        "thb": values.get(Quantity.THB, none)[0],
    }
    try:
        return adapter.characteristic, adapter.encode(fields)
    except UsageError:
        return None
