"""The whole Bouts page from recordings and what is picked: everything that can be read on it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from livemon.reworded.analysis import analysis_said
from livemon.tongue import said
from livemon.view.bouts_differences import Differences, differences
from livemon.view.bouts_figures import Figures, figures
from livemon.view.bouts_findings import PaceModel, Paragraph, limits, no_pace, paces
from livemon.view.bouts_overlay import Overlay, overlay
from livemon.view.bouts_pick import PickRow, first_picks, pick_rows
from livemon.view.bouts_source import BoutKey, BoutsSession, placed_bouts, sites_of

MOST_SITES: Final = 3  #: panes of one picture; more get too low to read
_FIRST_SITES: Final = 2
_FIRST_BOUTS: Final = 6


@dataclass(frozen=True, slots=True)
class Picks:
    """What is picked to be looked at."""

    bouts: tuple[BoutKey, ...] = ()
    sites: tuple[str, ...] = ()
    relative: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class BoutsModel:
    """The page.

    Attributes:
        no_pace: what stands there when no pace was looked for; else empty.
        note: why there is nothing to see; empty when there is.
    """

    athlete: str
    rows: tuple[PickRow, ...]
    sites: tuple[str, ...]
    picks: Picks
    overlay: Overlay
    figures: Figures
    differences: Differences
    limits: tuple[Paragraph, ...]
    paces: tuple[PaceModel, ...]
    no_pace: tuple[Paragraph, ...]
    note: str


def first_choice(sessions: Sequence[BoutsSession]) -> Picks:
    """Return what is picked when the page opens."""
    bouts = first_picks(placed_bouts(sessions), _FIRST_BOUTS)
    return Picks(bouts, sites_of(sessions)[:_FIRST_SITES])


def bouts_model(sessions: Sequence[BoutsSession], picks: Picks) -> BoutsModel:
    """Make the page; what was picked and is no longer there is left out."""
    bouts, sites = placed_bouts(sessions), sites_of(sessions)
    picked = [b for b in bouts if b.key in picks.bouts]
    seen = tuple(s for s in sites if s in picks.sites)[:MOST_SITES]
    kept = Picks(tuple(b.key for b in picked), seen, picks.relative)
    found = paces(sessions)
    return BoutsModel(
        sessions[-1].record.athlete if sessions else "",
        pick_rows(bouts),
        sites,
        kept,
        overlay(picked, seen, relative=picks.relative),
        figures(picked, seen),
        differences(picked, seen),
        limits(picked),
        found,
        () if found else no_pace(),
        _note(sessions, bouts),
    )


def _note(sessions: Sequence[BoutsSession], bouts: Sequence[object]) -> str:
    if bouts:
        return ""
    reasons = dict.fromkeys(analysis_said(s.analysis.note) for s in sessions if s.analysis.note)
    return "; ".join(reasons) if reasons else said("there is no recording to compare")
