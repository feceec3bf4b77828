"""A sensor's fault in words: technical, and never mixed up with physiology."""

from typing import Final

from livemon.monitor.snapshot import HeartRateState, SiteState, Trust
from livemon.tongue import marked, said
from livemon.view.numbers import span

_STRAP: Final = {
    Trust.GOOD: "",
    Trust.STALE: marked("strap silent"),
    Trust.NO_CONTACT: marked("strap without skin contact"),
    Trust.SUSPECT: marked("heart rate jumped, not believed"),
    Trust.ABSENT: marked("waiting for the strap"),
}

_SITE: Final = {
    Trust.GOOD: "",
    Trust.STALE: marked("silent"),
    Trust.NO_CONTACT: marked("no skin contact"),
    Trust.SUSPECT: marked("reading jumped, look at the sensor"),
    Trust.ABSENT: marked("waiting for the sensor"),
}


def strap_fault(heart_rate: HeartRateState) -> str:
    """Return what is wrong with the strap, or nothing."""
    if heart_rate.trust is Trust.STALE and heart_rate.age_s is not None:
        return said("strap silent {time}", time=span(heart_rate.age_s))
    words = _STRAP[heart_rate.trust]
    return said(words) if words else ""


def site_fault(site: SiteState) -> str:
    """Return what is wrong with the oximeter at this site, or nothing; without the site's name."""
    if site.trust is Trust.STALE and site.age_s is not None:
        return said("silent {time}", time=span(site.age_s))
    words = _SITE[site.trust]
    return said(words) if words else ""
