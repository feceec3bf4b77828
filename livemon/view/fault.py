"""A sensor's fault in words: technical, and never mixed up with physiology."""

from typing import Final

from livemon.monitor.snapshot import HeartRateState, SiteState, Trust
from livemon.view.numbers import span

_STRAP: Final = {
    Trust.GOOD: "",
    Trust.STALE: "strap silent",
    Trust.NO_CONTACT: "strap without skin contact",
    Trust.SUSPECT: "heart rate jumped, not believed",
    Trust.ABSENT: "waiting for the strap",
}

_SITE: Final = {
    Trust.GOOD: "",
    Trust.STALE: "silent",
    Trust.NO_CONTACT: "no skin contact",
    Trust.SUSPECT: "reading jumped, look at the sensor",
    Trust.ABSENT: "waiting for the sensor",
}


def strap_fault(heart_rate: HeartRateState) -> str:
    """Return what is wrong with the strap, or nothing."""
    words = _STRAP[heart_rate.trust]
    if heart_rate.trust is Trust.STALE and heart_rate.age_s is not None:
        return f"{words} {span(heart_rate.age_s)}"
    return words


def site_fault(site: SiteState) -> str:
    """Return what is wrong with the oximeter at this site, or nothing; without the site's name."""
    words = _SITE[site.trust]
    if site.trust is Trust.STALE and site.age_s is not None:
        return f"{words} {span(site.age_s)}"
    return words
