"""What to try next time, from what this session could and couldn't show.

Never an order and never a push: harder work only with the coach's consent.
"""

from livemon.analyse.limits import Limit
from livemon.analyse.numbers import number
from livemon.analyse.session import AthleteAnalysis, SitePace
from livemon.report.figures import amount, decimals_for


def next_time(analysis: AthleteAnalysis) -> tuple[str, ...]:
    """Suggest what would help or what would show more."""
    said = [_pace_advice(p) for p in analysis.paces]
    missing = {b.limiter.missing for b in analysis.bouts if b.limiter.limit is Limit.NOT_DECIDABLE}
    if any("second oximeter" in m for m in missing):
        said.append("A second sensor on a muscle that rests would show where the limit lies.")
    if not analysis.paces:
        said.append(
            "Note the pace or load of each bout; three different ones show which of them holds."
        )
    return tuple(dict.fromkeys(said))


def _pace_advice(found: SitePace) -> str:
    at, work = found.pace.intensity, found.kind or "this work"
    tested = [p.intensity for p in found.pace.points]
    if at.low is not None and at.value is not None:
        digits = decimals_for(at)
        unit = f"\N{NO-BREAK SPACE}{at.unit}" if at.unit else ""
        low, value = number(at.low, digits), number(at.value, digits)
        return (
            f"Long {work}: stay at or below {low}{unit}. Above {value}{unit}: short bouts, and let"
            " the muscle refill before the next."
        )
    if at.reason.startswith("above") and tested:
        most = max(tested, key=lambda i: i.value)
        return (
            f"Even at {amount(most.value, most.unit)} your {found.site} did not drain. A harder"
            f" bout of {work}, if your coach agrees and you are well, would show where it does."
        )
    if at.reason.startswith("below") and tested:
        least = min(tested, key=lambda i: i.value)
        return (
            f"Even at {amount(least.value, least.unit)} your {found.site} drained. Easier bouts of"
            f" {work} would show what it can hold."
        )
    return f"Three bouts of {work} at clearly different paces would show which of them holds."
