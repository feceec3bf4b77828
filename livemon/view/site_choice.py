"""Which sites are shown where there isn't room for all: warned ones first, then the falling."""

from livemon.view.model import SiteModel
from livemon.view.words import URGENCY


def chosen_sites(sites: tuple[SiteModel, ...], room: int) -> tuple[int, ...]:
    """Return the places of up to `room` sites, in the order of the roster."""
    by_need = sorted(range(len(sites)), key=lambda place: (-_need(sites[place]), place))
    return tuple(sorted(by_need[:room]))


def _need(site: SiteModel) -> float:
    """Warnings count most; without one, the faster a site falls the more it is worth seeing."""
    if site.warning is not None:
        return 1000.0 + URGENCY[site.warning]
    return 0.0 if site.tilt is None else -min(site.tilt.slope, 0.0)
