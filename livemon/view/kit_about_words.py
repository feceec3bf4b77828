"""What a sensor is, in a line: make, where it is meant to be worn, battery, signal."""

from typing import Final

from livemon.monitor.snapshot import LaneState
from livemon.view.kit_facts import InUse
from livemon.view.kit_signal_words import strength_words
from livemon.view.numbers import span, whole
from livemon.view.words import sentence_case, shortened

_LONGEST: Final = 40  #: of what the sensor says itself
#: A sensor that was read so lately needs no words for when.
_JUST_READ_S: Final = 60.0


def about_words(used: InUse, lane: LaneState | None) -> str:
    """Return what is known, in sentences; empty if nothing is."""
    about = used.about
    made = " ".join(part for part in (about.manufacturer, about.model) if part)
    parts = [
        shortened(made, _LONGEST),
        f"firmware {shortened(about.firmware, _LONGEST)}" if about.firmware else "",
        f"made for the {about.worn_on}" if about.worn_on else "",
        battery_words(used, lane),
        f"signal when linked {words}" if (words := strength_words(about.rssi_dbm)) else "",
        _quality(used, lane),
    ]
    said = " · ".join(part for part in parts if part)
    return sentence_case(said)


def battery_words(used: InUse, lane: LaneState | None) -> str:
    """Return the battery with the age of what is known of it."""
    battery_pct = charge_pct(used, lane)
    if battery_pct is None:
        return ""
    age_s = used.about.battery_age_s
    old = "" if age_s is None or age_s < _JUST_READ_S else f", read {span(age_s)} ago"
    return f"battery {battery_pct} %{old}"


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
    return f"signal quality {whole(min(told))} %" if told else ""
