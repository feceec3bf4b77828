"""The Lanes page from one snapshot to the next: calm order, pinned lanes, one selected."""

from livemon.monitor.snapshot import SessionSnapshot
from livemon.view.calm_order import CalmOrder
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

    def model(self, snapshot: SessionSnapshot, remarks: tuple[str, ...]) -> LanesModel:
        """Word all lanes and put them in order."""
        models = lane_models(snapshot, self._settings, self._pinned)
        urgency = {athlete: model.urgency for athlete, model in models.items()}
        self._order = self._calm.arrange(urgency, snapshot.t_s, self._pinned)
        return present_lanes(models, self._order, remarks)

    def toggle_pin(self, athlete: str) -> None:
        """Keep this lane on top, or no longer."""
        self._pinned ^= {athlete}

    def beside(self, athlete: str, by: int) -> str:
        """Return the lane `by` places below this one, as they stand on the screen."""
        if athlete not in self._order:
            return athlete
        at = self._order.index(athlete) + by
        return self._order[min(max(at, 0), len(self._order) - 1)]
