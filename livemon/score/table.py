"""A score as text for people and as JSON for programs."""

import json
from dataclasses import asdict
from math import isfinite
from typing import Any, Final

from livemon.score.breakdown import Row
from livemon.score.figure import Figure
from livemon.score.run import Score

_MARK: Final = {True: "holds", False: "BROKEN", None: ""}


def as_text(score: Score) -> str:
    """Return the tables."""
    head = f"{score.traces} invented traces, {score.hours:.0f} hours, family '{score.family.value}'"
    lines = [head, "", f"{'figure':<40}{'value':>9} {'unit':<9}{'limit':>12}  {'n':>6}"]
    lines += [_figure_line(f) for f in score.figures]
    group = ""
    for row in score.rows:
        if row.group != group:
            group = row.group
            lines += ["", f"{'by ' + group:<24}{'traces':>7}{'quiet h':>9}{'false':>7}{'per h':>7}"
                          f"{'border':>8}{'feasible':>10}{'missed':>8}{'delay s':>9}"]  # fmt: skip
        lines.append(_row_line(row))
    lines += ["", "false warnings by circumstance"]
    lines += [f"  {name:<36}{count:>5}" for name, count in score.causes]
    lines += ["", "every limit holds" if score.holds else "not every limit holds"]
    return "\n".join(lines) + "\n"


def as_json(score: Score) -> str:
    """Return one JSON object; a delay of something that never came is the word "never"."""
    plain = {
        "family": score.family.value,
        "traces": score.traces,
        "hours": score.hours,
        "holds": score.holds,
        "figures": [asdict(f) | {"holds": f.holds} for f in score.figures],
        "rows": [
            asdict(r) | {"false_per_hour": r.false_per_hour, "holds": r.holds} for r in score.rows
        ],
        "causes": dict(score.causes),
    }
    return json.dumps(_finite(plain), allow_nan=False, indent=1) + "\n"


def _finite(value: Any) -> Any:  # noqa: ANN401 - whatever JSON can hold
    if isinstance(value, dict):
        return {key: _finite(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_finite(item) for item in value]
    return "never" if isinstance(value, float) and not isfinite(value) else value


def _figure_line(figure: Figure) -> str:
    limit = ""
    if figure.at_least is not None and figure.at_most is not None:
        limit = f"{figure.at_least:g}-{figure.at_most:g}"
    elif figure.at_least is not None:
        limit = f">= {figure.at_least:g}"
    elif figure.at_most is not None:
        limit = f"<= {figure.at_most:g}"
    value = _number(figure.value, 3 if figure.unit != "s" else 1)
    mark = _MARK[figure.holds]
    line = f"{figure.name:<40}{value:>9} {figure.unit:<9}{limit:>12}  {figure.count:>6}  {mark}"
    return line.rstrip()


def _row_line(row: Row) -> str:
    line = (
        f"  {row.name:<22}{row.traces:>7}{row.quiet_h:>9.1f}{row.false:>7}"
        f"{_number(row.false_per_hour, 2):>7}{row.border:>8}{row.feasible:>10}{row.missed:>8}"
        f"{_number(row.delay_s, 1):>9}  {_MARK[row.holds]}"
    )
    return line.rstrip()


def _number(value: float | None, decimals: int) -> str:
    if value is None:
        return "–"
    return f"{value:.{decimals}f}" if isfinite(value) else "never"
