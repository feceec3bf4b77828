"""The Lanes page from one snapshot to the next: calm order, pinned lanes, one selected."""

from livemon.monitor.snapshot import SessionSnapshot
from livemon.view.calm_order import CalmOrder
from livemon.view.conduct import NOTHING_YET, Conduct
from livemon.view.conduct_words import lane_after_conduct, lanes_after_conduct
from livemon.view.lanes_model import LanesModel
from livemon.view.present_lanes import lane_models, present_lanes
from livemon.view.settings import ViewSettings


class ClassView:
    """Remembers what a person has pinned and selected, and in which order the lanes stand."""

    def __init__(self, settings: ViewSettings) -> None:
        self._settings = settings
        self._calm = CalmOrder()
        self._pinned: frozenset[str] = frozenset()
        self._order: tuple[str, ...] = ()

    def model(
        self, snapshot: SessionSnapshot, remarks: tuple[str, ...], conduct: Conduct = NOTHING_YET
    ) -> LanesModel:
        """Word all lanes, as people have dealt with their warnings, and put them in order."""
        worded = lane_models(snapshot, self._settings, self._pinned)
        models = {
            athlete: lane_after_conduct(model, conduct, snapshot.t_s)
            for athlete, model in worded.items()
        }
        urgency = {athlete: model.urgency for athlete, model in models.items()}
        self._order = self._calm.arrange(urgency, snapshot.t_s, self._pinned)
        return lanes_after_conduct(present_lanes(models, self._order, remarks), conduct)

    def use(self, settings: ViewSettings) -> None:
        """Word lanes by these settings from now on."""
        self._settings = settings

    def toggle_pin(self, athlete: str) -> None:
        """Keep this lane on top, or no longer."""
        self._pinned ^= {athlete}

    def beside(self, athlete: str, by: int) -> str:
        """Return the lane `by` places below this one, as they stand on the screen."""
        if athlete not in self._order:
            return athlete
        at = self._order.index(athlete) + by
        return self._order[min(max(at, 0), len(self._order) - 1)]
