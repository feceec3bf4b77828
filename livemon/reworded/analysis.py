"""Reasons, evidence and verdicts of the analysis."""

from typing import Final

from livemon.reworded.forms import NUMBER, Forms
from livemon.tongue import marked

#: What is said as it stands.
PLAIN: Final = frozenset(
    {
        # Words for a bout as a whole.
        marked("supply ahead"),
        marked("in balance"),
        marked("demand ahead"),
        marked("at low"),
        marked("unsure"),
        marked("steady"),
        marked("moving"),
        marked("undecidable"),
        marked("up"),
        marked("down"),
        marked("same"),
        marked("local"),
        marked("whole body"),
        marked("not decidable"),
        # Why the muscle got its word.
        marked("still falling in the late part"),
        marked("rising in the late part"),
        marked("dipped, and came back while the work went on"),
        marked("the trend's interval is too wide to call it level"),
        marked("level, near the athlete's own low"),
        marked("level in the late part"),
        # What total haemoglobin and SmO2 say together.
        marked("compression: less blood comes in"),
        marked("more oxygen is taken out of the blood; blood volume unchanged"),
        marked("outflow held back: blood pools while oxygen is used"),
        marked("less blood in the muscle, supply and use still equal"),
        marked("no change in blood volume or balance"),
        marked("more blood, same balance: warmth or fuller vessels"),
        marked("less blood, better filled: the muscle works less"),
        marked("supply ahead with unchanged blood volume"),
        marked("inflow: more blood comes than is used"),
        marked("tHb is missing before the bout"),
        marked("tHb is not positive before the bout"),
        # What limits, and what is missing to say so.
        marked("heart rate is not known"),
        marked("no muscle site"),
        marked("a clear trend at a working muscle"),
        marked("a heart rate that holds: it was still moving at the end"),
        marked("a second oximeter with a clear trend, on a muscle that rests"),
        marked("only the resting muscle fell: cold, a grip, or blood sent elsewhere"),
        marked("the muscle is level at its low, where it can't fall further"),
        marked("neither heart rate nor muscle reached a limit in this bout"),
        # Why a figure is not known.
        marked("no bouts were marked: mark the start and end of work to have it analysed"),
        marked("no rest before the bout and no resting baseline"),
        marked("the noise of this bout is not known"),
        marked("the samples do not determine it"),
        marked("too few samples in the bout"),
        marked("too few samples in the late part of the bout"),
        marked("too few samples at the end of the bout"),
        marked("too few samples around the start"),
        marked("too few samples around the end of the bout"),
        marked("no half minute without a gap"),
        marked("no level was chosen"),
        marked("the bout is too short"),
        marked("the bout is too short: one minute at least"),
        marked("the bout is too short: two minutes at least, the first of them for the onset"),
        marked("heart rate is missing for much of the bout"),
        marked("heart rate is not known in both"),
        marked("no heart rate band was set"),
        marked("needs two minutes of heart rate without a gap"),
        marked("heart rate was still moving at the end"),
        marked("no fall of five points at the start"),
        marked("no exponential fits"),
        marked("the start doesn't look like one exponential"),
        marked("the fall has no end within the first two minutes"),
        marked("the noise is too large to fix a time constant"),
        marked("less than a minute of rest after the bout"),
        marked("SmO2 rose by less than five points: nothing to time"),
        marked("SmO2 didn't clearly pass the half-way level"),
        marked("the half-recovery time may be zero"),
        marked("no lactate sample in this bout"),
        marked("no lactate sample in this bout; samples without a time can't be used"),
        marked("no sample in the ten minutes before the bout"),
        marked("needs 30 minutes of constant work with samples at minutes 10 and 30"),
        # The pace that holds, and the breakpoint.
        marked("needs bouts at three different intensities at least"),
        marked("SmO2's trend doesn't clearly worsen with intensity in these bouts"),
        marked("above the hardest bout: even there the muscle was not draining"),
        marked("below the easiest bout: even there the muscle was draining"),
        marked("one straight line serves as well as two"),
        marked(
            "A breakpoint of a ramp or step test is not a load that can be kept up: it lies well "
            "above it."
        ),
        # Verdicts.
        marked("higher level"),
        marked("lower level"),
        marked("deeper drop"),
        marked("smaller drop"),
        marked("falls less or rises more"),
        marked("falls more or rises less"),
        marked("slower recovery"),
        marked("faster recovery"),
        marked("no clear difference"),
        marked("no verdict: heart rate is not known in both"),
        marked("no verdict: how much a new placement changes this is not known"),
    }
)

#: What is said with something in its places; the first that fits is taken.
FORMS: Final = (
    marked("{evidence}; tHb {direction}: {reading}"),
    marked("{who}: {balance}, {slope} %/min ({low} to {high})"),
    marked("{who}: {balance} ({reason})"),
    marked("{site} (working)"),
    marked("{site} (resting)"),
    marked("heart rate {bpm} bpm, {steadiness}"),
    marked("heart rate {bpm} bpm, {steadiness}, in its band of {low} to {high} bpm"),
    marked("heart rate {bpm} bpm, {steadiness}, below its band of {low} to {high} bpm"),
    marked(
        "heart rate {bpm} bpm, {steadiness}, at or above the upper end of its band of {low} to "
        "{high} bpm"
    ),
    marked("a clear trend at {site}"),
    marked("no verdict: heart rates differ by more than {bpm} bpm"),
    marked(
        "no clear difference: less than the {points} {unit} that two recordings can differ by "
        "chance"
    ),
    marked("needs {points} different loads at least"),
    marked("the level jumped by {points}: a sensor that slipped, or another load"),
    marked("drawn at different sites: {first} and {second}"),
    marked("units differ: {first} and {second}"),
    marked("intensities in different units: {units}"),
    marked("{load} (entered)"),
    marked("{load} (distance over time)"),
    marked("{load} (measured)"),
    marked("{load} (measured, spread {spread})"),
)

_WORDS: Final = "supply ahead|in balance|demand ahead|at low|unsure"
_PLACES: Final = {
    "balance": _WORDS,
    "bpm": NUMBER,
    "direction": "up|down|same|unsure",
    "high": NUMBER,
    "load": r"\d.*?",
    "low": NUMBER,
    "points": NUMBER,
    "slope": NUMBER,
    "steadiness": "steady|moving|undecidable",
}
_OURS: Final = frozenset(
    {"evidence", "direction", "reading", "who", "balance", "reason", "steadiness"}
)
_SAYS: Final = Forms(PLAIN, FORMS, _PLACES, _OURS)


def analysis_said(english: str) -> str:
    """Return what the analysis said in the language spoken; what isn't known stays as it is."""
    return _SAYS.said(english)
