"""How long a plan takes, for the screen; the command line has its own English words."""

from livemon.monitor.plan import Plan, duration_words
from livemon.tongue import said_n


def total_said(plan: Plan) -> str:
    """Return how many steps there are and how long they take, in the language spoken."""
    count = len(plan.steps)
    known = [step.ends_after_s for step in plan.steps if step.ends_after_s is not None]
    time = duration_words(sum(known))
    if len(known) < count:
        return said_n(
            "{n} step, {time}, and the steps that end by hand",
            "{n} steps, {time}, and the steps that end by hand",
            count,
            time=time,
        )
    if any(step.refill_pct is not None for step in plan.steps):
        return said_n("{n} step, at most {time}", "{n} steps, at most {time}", count, time=time)
    return said_n("{n} step, {time}", "{n} steps, {time}", count, time=time)
