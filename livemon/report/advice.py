"""What to try next time, from what this session could and couldn't show.

Never an order and never a push: harder work only with the coach's consent.
"""

from livemon.analyse.limits import Limit
from livemon.analyse.numbers import number
from livemon.analyse.session import AthleteAnalysis, SitePace
from livemon.report.figures import amount, decimals_for
from livemon.tongue import said


def next_time(analysis: AthleteAnalysis) -> tuple[str, ...]:
    """Suggest what would help or what would show more."""
    advice = [_pace_advice(p) for p in analysis.paces]
    missing = {b.limiter.missing for b in analysis.bouts if b.limiter.limit is Limit.NOT_DECIDABLE}
    if any("second oximeter" in m for m in missing):
        advice.append(
            said("A second sensor on a muscle that rests would show where the limit lies.")
        )
    if not analysis.paces:
        advice.append(
            said(
                "Note the pace or load of each bout; three different ones show which of them holds."
            )
        )
    return tuple(dict.fromkeys(advice))


def _pace_advice(found: SitePace) -> str:
    at, work = found.pace.intensity, found.kind or said("this work")
    tested = [p.intensity for p in found.pace.points]
    if at.low is not None and at.value is not None:
        digits = decimals_for(at)
        unit = f"\N{NO-BREAK SPACE}{at.unit}" if at.unit else ""
        return said(
            "Long {work}: stay at or below {low}. Above {load}: short bouts, and let the muscle"
            " refill before the next.",
            work=work,
            low=f"{number(at.low, digits)}{unit}",
            load=f"{number(at.value, digits)}{unit}",
        )
    if at.reason.startswith("above") and tested:
        most = max(tested, key=lambda i: i.value)
        return said(
            "Even at {load} your {site} did not drain. A harder bout of {work}, if your coach"
            " agrees and you are well, would show where it does.",
            load=amount(most.value, most.unit), site=found.site, work=work,
        )  # fmt: skip
    if at.reason.startswith("below") and tested:
        least = min(tested, key=lambda i: i.value)
        return said(
            "Even at {load} your {site} drained. Easier bouts of {work} would show what it can"
            " hold.",
            load=amount(least.value, least.unit), site=found.site, work=work,
        )  # fmt: skip
    return said(
        "Three bouts of {work} at clearly different paces would show which of them holds.",
        work=work,
    )
