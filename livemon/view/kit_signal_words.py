"""Signal strength and who is meant, in words."""

from collections import Counter
from collections.abc import Iterable
from typing import Final

from livemon.view.kit_facts import Device
from livemon.view.kit_model import ChoiceModel, NearbyModel
from livemon.view.numbers import whole
from livemon.view.wheel_entry import wheel_words
from livemon.view.words import shortened

#: Common practice, no source: at −60 dBm a sensor lies within a few metres, below −85 dBm packets
#: begin to be lost.
_STRENGTHS: Final = ((-60, "strong"), (-75, "good"), (-85, "weak"))
_LONGEST: Final = 22  #: of a name in the list
_TAIL: Final = 5  #: of an address: enough to tell two apart, and readable on a label


def strength_words(rssi_dbm: int | None) -> str:
    """Return how well it is heard: "strong, −52 dBm"; empty if it isn't measured."""
    if rssi_dbm is None:
        return ""
    words = next((words for least, words in _STRENGTHS if rssi_dbm >= least), "very weak")
    return f"{words}, {whole(rssi_dbm)} dBm"


def nearby_models(devices: tuple[Device, ...]) -> tuple[NearbyModel, ...]:
    """Word each device; where two have one name, the end of the address tells them apart."""
    several = _names_of_several(devices)
    return tuple(_nearby(device, device.name in several) for device in devices)


def choice_models(devices: tuple[Device, ...]) -> tuple[ChoiceModel, ...]:
    """Word the devices among which a person has to choose."""
    return tuple(
        ChoiceModel(
            one.address,
            f"…{one.address[-_TAIL:]}  {strength_words(one.rssi_dbm) or 'already linked'}",
        )
        for one in devices
    )


def _nearby(device: Device, shared: bool) -> NearbyModel:
    name = shortened(device.name or "without a name", _LONGEST)
    if device.address and (shared or device.name is None):
        name = f"{name}  …{device.address[-_TAIL:]}"
    heard = strength_words(device.rssi_dbm) or ("already linked" if device.address else "not heard")
    kinds = list(device.looks_like) or ([] if device.remembered else ["does not say what it is"])
    if device.remembered is not None:
        same = device.remembered == device.name
        kinds.append("remembered" if same else f"remembered as {device.remembered}")
    likely = bool(device.looks_like) or device.remembered is not None
    kind = ", ".join(kinds)
    can_ask = bool(device.address) and device.reading is None
    wheel = wheel_words(device.wheel_m)
    return NearbyModel(
        device.key, name, heard, kind, device.reading, likely, device.usual, can_ask, wheel
    )


def _names_of_several(devices: Iterable[Device]) -> set[str]:
    counted = Counter(device.name for device in devices if device.name is not None)
    return {name for name, count in counted.items() if count > 1}
