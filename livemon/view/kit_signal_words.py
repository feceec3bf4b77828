"""Signal strength and who is meant, in words."""

from collections import Counter
from collections.abc import Iterable
from typing import Final

from livemon.tongue import marked, said
from livemon.view.kit_facts import Device
from livemon.view.kit_model import ChoiceModel, NearbyModel
from livemon.view.numbers import whole
from livemon.view.wheel_entry import wheel_words
from livemon.view.words import shortened

#: Common practice, no source: at −60 dBm a sensor lies within a few metres, below −85 dBm packets
#: begin to be lost.
_STRENGTHS: Final = (
    (-60, marked("strong, {dbm} dBm"), marked("signal when linked strong, {dbm} dBm")),
    (-75, marked("good, {dbm} dBm"), marked("signal when linked good, {dbm} dBm")),
    (-85, marked("weak, {dbm} dBm"), marked("signal when linked weak, {dbm} dBm")),
)
_VERY_WEAK: Final = (
    marked("very weak, {dbm} dBm"),
    marked("signal when linked very weak, {dbm} dBm"),
)
_LONGEST: Final = 22  #: of a name in the list
_TAIL: Final = 5  #: of an address: enough to tell two apart, and readable on a label


def strength_words(rssi_dbm: int | None) -> str:
    """Return how well it is heard: "strong, −52 dBm"; empty if it isn't measured."""
    if rssi_dbm is None:
        return ""
    now, _ = _strength(rssi_dbm)
    return said(now, dbm=whole(rssi_dbm))


def linked_words(rssi_dbm: int | None) -> str:
    """Return how well it was heard when the link was opened; empty if that wasn't measured."""
    if rssi_dbm is None:
        return ""
    _, then = _strength(rssi_dbm)
    return said(then, dbm=whole(rssi_dbm))


def _strength(rssi_dbm: int) -> tuple[str, str]:
    """Return the words for now, and for when the link was opened."""
    told = ((now, then) for least, now, then in _STRENGTHS if rssi_dbm >= least)
    return next(told, _VERY_WEAK)


def nearby_models(devices: tuple[Device, ...]) -> tuple[NearbyModel, ...]:
    """Word each device; where two have one name, the end of the address tells them apart."""
    several = _names_of_several(devices)
    return tuple(_nearby(device, device.name in several) for device in devices)


def choice_models(devices: tuple[Device, ...]) -> tuple[ChoiceModel, ...]:
    """Word the devices among which a person has to choose."""
    return tuple(
        ChoiceModel(
            one.address,
            f"…{one.address[-_TAIL:]}  {strength_words(one.rssi_dbm) or said('already linked')}",
        )
        for one in devices
    )


def _nearby(device: Device, shared: bool) -> NearbyModel:
    name = shortened(device.name or said("without a name"), _LONGEST)
    if device.address and (shared or device.name is None):
        name = f"{name}  …{device.address[-_TAIL:]}"
    silent = said("already linked") if device.address else said("not heard")
    heard = strength_words(device.rssi_dbm) or silent
    kinds = list(device.looks_like)
    if device.remembered is not None and device.remembered == device.name:
        kinds.append(said("remembered"))
    elif device.remembered is not None:
        kinds.append(said("remembered as {name}", name=device.remembered))
    elif not kinds:
        kinds.append(said("does not say what it is"))
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
