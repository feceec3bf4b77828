"""A sensor's fault in words: technical, and never mixed up with physiology."""

from livemon.monitor.snapshot import HeartRateState, SiteState, Trust
from livemon.view.numbers import span


def strap_fault(heart_rate: HeartRateState) -> str:
    """Return what is wrong with the strap, or nothing."""
    if heart_rate.trust is Trust.STALE and heart_rate.age_s is not None:
        return f"strap silent {span(heart_rate.age_s)}"
    return {
        Trust.GOOD: "",
        Trust.STALE: "strap silent",
        Trust.NO_CONTACT: "strap without skin contact",
        Trust.SUSPECT: "heart rate jumped, not believed",
        Trust.ABSENT: "waiting for the strap",
    }[heart_rate.trust]


def site_fault(site: SiteState) -> str:
    """Return what is wrong with the oximeter at this site, or nothing; without the site's name."""
    if site.trust is Trust.STALE and site.age_s is not None:
        return f"silent {span(site.age_s)}"
    return {
        Trust.GOOD: "",
        Trust.STALE: "silent",
        Trust.NO_CONTACT: "no skin contact",
        Trust.SUSPECT: "reading jumped, look at the sensor",
        Trust.ABSENT: "waiting for the sensor",
    }[site.trust]
