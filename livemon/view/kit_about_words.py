"""What a sensor is, in a line: make, where it is meant to be worn, battery, signal."""

from typing import Final

from livemon.monitor.snapshot import LaneState
from livemon.tongue import marked, said
from livemon.view.kit_facts import InUse
from livemon.view.kit_signal_words import linked_words
from livemon.view.numbers import span, whole
from livemon.view.words import sentence_case, shortened

_LONGEST: Final = 40  #: of what the sensor says itself
#: A sensor that was read so lately needs no words for when.
_JUST_READ_S: Final = 60.0
#: By what the sensor says; see `BodyLocation`.
_WORN_ON: Final = {
    "chest": marked("made for the chest"),
    "wrist": marked("made for the wrist"),
    "finger": marked("made for the finger"),
    "hand": marked("made for the hand"),
    "ear lobe": marked("made for the ear lobe"),
    "foot": marked("made for the foot"),
}


def about_words(used: InUse, lane: LaneState | None) -> str:
    """Return what is known, in sentences; empty if nothing is."""
    about = used.about
    made = " ".join(part for part in (about.manufacturer, about.model) if part)
    firmware = shortened(about.firmware or "", _LONGEST)
    parts = [
        shortened(made, _LONGEST),
        said("firmware {version}", version=firmware) if firmware else "",
        said(_WORN_ON[about.worn_on]) if about.worn_on else "",
        battery_words(used, lane),
        linked_words(about.rssi_dbm),
        _quality(used, lane),
    ]
    return sentence_case(" · ".join(part for part in parts if part))


def battery_words(used: InUse, lane: LaneState | None) -> str:
    """Return the battery with the age of what is known of it."""
    battery_pct = charge_pct(used, lane)
    if battery_pct is None:
        return ""
    age_s = used.about.battery_age_s
    if age_s is None or age_s < _JUST_READ_S:
        return said("battery {percent} %", percent=battery_pct)
    return said("battery {percent} %, read {time} ago", percent=battery_pct, time=span(age_s))


def charge_pct(used: InUse, lane: LaneState | None) -> int | None:
    """Return the charge as read, or as the sensor's own packets tell it."""
    if used.battery_pct is not None or lane is None:
        return used.battery_pct
    told = (one.battery_pct for one in lane.sensors if one.sensor == used.sensor)
    return next(told, None)


def _quality(used: InUse, lane: LaneState | None) -> str:
    """Return the worst of what its probes say of their own readings."""
    sites = () if lane is None else lane.state.sites
    told = [
        one.quality_pct for one in sites if one.site in used.sites and one.quality_pct is not None
    ]
    return said("signal quality {percent} %", percent=whole(min(told))) if told else ""
