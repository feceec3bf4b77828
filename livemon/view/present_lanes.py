"""Turn the whole session into the Lanes page. Pure: the order of the lanes is handed in."""

from collections import Counter
from collections.abc import Mapping, Sequence

from livemon.monitor.snapshot import SessionSnapshot
from livemon.tongue import marked_n, said, said_n
from livemon.view.clock_words import NO_BOUT
from livemon.view.lane_words import lane_model
from livemon.view.lanes_model import LaneModel, LanesModel, Urgency
from livemon.view.model import ClockModel
from livemon.view.settings import ViewSettings

_SUMMARY = (
    (Urgency.DRAIN, marked_n("{n} drain", "{n} drains")),
    (Urgency.CAUTION, marked_n("{n} caution", "{n} cautions")),
    (Urgency.MISSED, marked_n("{n} missed", "{n} missed")),
    (Urgency.FAULT, marked_n("{n} sensor fault", "{n} sensor faults")),
    (Urgency.INFORMATION, marked_n("{n} slow fall", "{n} slow falls")),
)


def lane_models(
    snapshot: SessionSnapshot, settings: ViewSettings, pinned: frozenset[str] = frozenset()
) -> dict[str, LaneModel]:
    """Word every lane, by athlete, in the order of the roster."""
    return {
        lane.athlete: lane_model(lane, at + 1, settings, pinned=lane.athlete in pinned)
        for at, lane in enumerate(snapshot.lanes)
    }


def present_lanes(
    models: Mapping[str, LaneModel], order: Sequence[str], remarks: tuple[str, ...] = ()
) -> LanesModel:
    """Put worded lanes in order, with one line about all of them."""
    clock = _common(models)
    athletes = said_n("{n} athlete", "{n} athletes", len(models))
    return LanesModel(
        title=f"{athletes} · {clock.title}" if clock.title else athletes,
        summary=_summary(models),
        clock=clock,
        remarks=remarks,
        lanes=tuple(models[athlete] for athlete in order),
        table=tuple(
            (f"{models[athlete].number} {models[athlete].name}", models[athlete].spoken)
            for athlete in order
        ),
    )


def _summary(models: Mapping[str, LaneModel]) -> str:
    counts = Counter(model.urgency for model in models.values())
    parts = [said_n(*forms, counts[urgency]) for urgency, forms in _SUMMARY if counts[urgency]]
    return " · ".join(parts) or said("No warning")


def _common(models: Mapping[str, LaneModel]) -> ClockModel:
    """Return the bout clock where all share one, as in a class that starts together."""
    clocks = {model.clock for model in models.values()}
    return clocks.pop() if len(clocks) == 1 else NO_BOUT
