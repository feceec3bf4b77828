"""Decode the Characteristic Presentation Format descriptor, 0x2904.

format (8 bit) | exponent (8, signed) | unit (16) | namespace (8) | description (16)
It says how one number is written and in which unit, never what is measured: "percent" may be SmO2,
SpO2 or a battery. So it can confirm an adapter, or contradict it, and no more.
Source: Bluetooth Core Specification, Vol 3 Part G, 3.3.3.5; Assigned Numbers, "Format Types" and
"Units".
"""

from dataclasses import dataclass
from typing import Final

from livemon.decode.adapter import Adapter
from livemon.decode.fields import FieldReader
from livemon.decode.formats import FORMATS, Kind
from livemon.decode.layout import UNSCALED, Field
from livemon.decode.uuids import sig_uuid

PRESENTATION_FORMAT: Final = sig_uuid(0x2904)

_FORMAT_NAMES: Final = {form.code: form.name for form in FORMATS.values()}

#: Units that a muscle oximeter's field may have, as adapters write them.
_UNITS: Final = {0x2700: "", 0x2703: "s", 0x27AD: "%", 0x271A: "mol/m³", 0x27B2: "mmol/L"}


@dataclass(frozen=True, slots=True)
class PresentationFormat:
    """What the descriptor says.

    Attributes:
        format: name of the format type; None for text, structures and reserved numbers.
        exponent: of ten; counts for whole-number formats only.
        unit: the SIG's number of the unit.
        description: with namespace 1 the SIG's number of a place: 0x010D left, 0x010E right, …
    """

    format: str | None
    exponent: int
    unit: int
    namespace: int
    description: int


def decode_presentation_format(payload: bytes) -> PresentationFormat:
    """Decode the descriptor.

    Raises:
        DecodeError: it ends before one of its fields.
    """
    reader = FieldReader(payload, PRESENTATION_FORMAT)
    return PresentationFormat(
        _FORMAT_NAMES.get(reader.uint(1, "format")),
        reader.sint(1, "exponent"),
        reader.uint(2, "unit"),
        reader.uint(1, "namespace"),
        reader.uint(2, "description"),
    )


def contradictions(adapter: Adapter, said: PresentationFormat) -> tuple[str, ...]:
    """Return where the sensor's own descriptor and the adapter differ, in words.

    Nothing can be compared unless both speak of a single number.
    """
    numbers = [field for field in adapter.layout.fields if field.quantity not in UNSCALED]
    if said.format is None or len(adapter.layout.fields) != 1 or not numbers:
        return ()
    (field,) = numbers
    return tuple(_differences(field, said))


def _differences(field: Field, said: PresentationFormat) -> list[str]:
    found = []
    form = field.word.format
    if form.name != said.format:
        found.append(f"{field.key}: format is {form.name}, the sensor says {said.format}")
    whole = form.kind in {Kind.UNSIGNED, Kind.SIGNED}
    if whole and field.scale.value(1) != 10.0**said.exponent:
        found.append(
            f"{field.key}: one raw step is {field.scale.value(1):g}, the sensor says "
            f"{10.0**said.exponent:g}"
        )
    unit = _UNITS.get(said.unit, f"unit 0x{said.unit:04X}")
    if unit and unit != field.unit:
        found.append(f"{field.key}: unit is {field.unit}, the sensor says {unit}")
    return found
