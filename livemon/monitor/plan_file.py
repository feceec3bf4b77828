"""Read a plan from TOML; every error says file, key, expected and found.

name = "Three bouts at one heart rate"
rounds = 3                # the steps below, so many times; 1 if left out

[[step]]
do = "bout"               # or "recovery", "warm-up"
work = "run"              # any words; may be left out
duration_s = 240          # or distance_m = 800; with neither, the bout ends by hand
band_bpm = [150, 158]     # may be left out: the athlete's own band
load_w = 220              # or load_kg, speed_km_h, speed_m_s; may be left out

[[step]]
do = "recovery"
refill_pct = 95           # ends when SmO2 is back at this share of baseline ...
limit_s = 300             # ... or after this time; or duration_s = 180 instead of both
"""

from importlib.resources import files
from typing import Final

from livemon.decode.toml_table import TomlTable, parse_toml, shown
from livemon.errors import ConfigError
from livemon.monitor.mark_fields import FIELDS, LOAD_UNITS, MarkKind, NumberField
from livemon.monitor.marks import Details
from livemon.monitor.plan import Plan, Step, StepKind

#: A day of one-minute steps; more is a slip in `rounds`.
_MOST_STEPS: Final = 1_500

_NUMBERS: Final = {
    field.key: field
    for kind in (MarkKind.BOUT_START, MarkKind.RECOVERY_START, MarkKind.LOAD)
    for field in FIELDS[kind]
    if isinstance(field, NumberField)
}
#: Under what name a mark's table has the number that a plan calls otherwise.
_AS: Final = {"duration_s": "planned_s", "limit_s": "planned_s", "distance_m": "planned_m"}

_ENDS: Final = ("duration_s", "distance_m", "refill_pct")
_ONLY_IN_BOUTS: Final = "only a bout has it"
_ONLY_IN_RECOVERIES: Final = "only a recovery has it; a bout ends by duration_s or distance_m"


def parse_plan(text: str, where: str) -> Plan:
    """Read a plan; `where` names the file in messages.

    Raises:
        ConfigError: not TOML, or a key missing, unknown, or of no use.
    """
    table = parse_toml(text, where, ConfigError)
    name = table.text("name", 80)
    about = table.text("about", 400) if table.has("about") else ""
    rounds = table.whole("rounds", 1, 100) if table.has("rounds") else 1
    steps = tuple(_step(row) for row in table.rows("step", _MOST_STEPS))
    table.end()
    if not steps:
        raise table.error("step", "missing; a plan has at least one [[step]]")
    if len(steps) * rounds > _MOST_STEPS:
        raise table.error("rounds", f"expected at most {_MOST_STEPS} steps in all, found more")
    return Plan(name, about, steps * rounds)


def ready_made_plans() -> tuple[tuple[str, str], ...]:
    """Return file name and text of the plans that come with livemon; their numbers are invented."""
    folder = files("livemon.monitor") / "plans"
    return tuple(
        (entry.name, entry.read_text(encoding="utf-8"))
        for entry in sorted(folder.iterdir(), key=lambda entry: entry.name)
        if entry.name.endswith(".toml")
    )


def _step(row: TomlTable) -> Step:
    kind = StepKind(row.choice("do", [kind.value for kind in StepKind]))
    numbers = {key: _number(row, key) for key in (*_ENDS, "limit_s")}
    work = row.text("work", 60) if row.has("work") else ""
    band_bpm = _band(row) if kind is StepKind.BOUT else None
    load = _load(row) if kind is StepKind.BOUT else ()
    reasons = dict.fromkeys(("band_bpm", *(key for key, _ in LOAD_UNITS)), _ONLY_IN_BOUTS)
    row.end(reasons)
    _check(row, kind, numbers)
    return Step(
        kind, work, numbers["duration_s"], numbers["distance_m"], band_bpm, load,
        numbers["refill_pct"], numbers["limit_s"],
    )  # fmt: skip


def _check(row: TomlTable, kind: StepKind, numbers: dict[str, float | None]) -> None:
    given = [key for key in _ENDS if numbers[key] is not None]
    if len(given) > 1:
        raise row.error(given[1], f"a step ends in one way, and {given[0]} is there already")
    if kind is not StepKind.RECOVERY and numbers["refill_pct"] is not None:
        raise row.error("refill_pct", _ONLY_IN_RECOVERIES)
    if kind is StepKind.RECOVERY and numbers["distance_m"] is not None:
        raise row.error("distance_m", _ONLY_IN_BOUTS)
    if kind is StepKind.RECOVERY and not given:
        raise row.error("duration_s", "missing; or give refill_pct and limit_s")
    if (numbers["refill_pct"] is None) != (numbers["limit_s"] is None):
        raise row.error("limit_s", "refill_pct and limit_s belong together; one of them is missing")


def _number(row: TomlTable, key: str) -> float | None:
    if not row.has(key):
        return None
    value = row.checked_number(key, row.take(key, int, float))
    return _in_range(row, key, value)


def _in_range(row: TomlTable, key: str, value: float) -> float:
    field = _NUMBERS[_AS.get(key, key)]
    if not field.low <= value <= field.high:
        raise row.error(
            key, f"expected {field.low:g} to {field.high:g} {field.unit}, found {shown(value)}"
        )
    return value


def _band(row: TomlTable) -> tuple[int, int] | None:
    if not row.has("band_bpm"):
        return None
    field = _NUMBERS["low_bpm"]
    low, high = (
        row.checked_whole("band_bpm", edge, round(field.low), round(field.high))
        for edge in row.pair("band_bpm")
    )
    if low >= high:
        raise row.error("band_bpm", f"expected lower edge, then upper, found {[low, high]}")
    return low, high


def _load(row: TomlTable) -> Details:
    loads = [(key, _number(row, key)) for key, _ in LOAD_UNITS if row.has(key)]
    if len(loads) > 1:
        raise row.error(loads[1][0], f"a step has one load, and {loads[0][0]} is there already")
    return tuple(loads)
