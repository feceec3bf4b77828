"""What is known about a bout, as the form for corrections shows it."""

from livemon.analyse.bout import Origin
from livemon.monitor.mark_fields import LOAD_UNITS
from livemon.view.bouts_commands import BoutEntry
from livemon.view.bouts_source import PlacedBout

_UNITS = frozenset(unit for _, unit in LOAD_UNITS)


def entry_of(placed: PlacedBout) -> BoutEntry:
    """Return what stands in the fields at first; a load that was measured can't be corrected."""
    bout = placed.found.bout
    load = bout.intensity
    if load and (load.origin is Origin.MEASURED or load.unit not in _UNITS):
        load = None
    lactate = placed.found.lactate.last.value
    return BoutEntry(
        bout.kind,
        "" if load is None else f"{load.value:g}",
        "W" if load is None else load.unit,
        "" if bout.rpe is None else f"{bout.rpe:g}",
        "" if lactate is None else f"{lactate:g}",
    )
