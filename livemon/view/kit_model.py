"""What the Kit page shows: every word, ready to be drawn. Frozen and free of Qt."""

from dataclasses import dataclass

from livemon.view.model import Tone


@dataclass(frozen=True, slots=True)
class NearbyModel:
    """One line of what is nearby."""

    key: str
    name: str
    strength: str
    kind: str  #: what it looks like, and as what it is remembered
    reading: str | None  #: how it can be read, if that is known
    likely: bool  #: it looks like a sensor, or is remembered
    usual: tuple[str, str]  #: who wore it last, and on which muscle; empty if nobody is known to
    can_ask: bool  #: it is heard and does not say what it is; opening it may tell
    wheel: str = ""  #: "2.105", or empty


@dataclass(frozen=True, slots=True)
class ChoiceModel:
    """One of several devices that a sensor may be."""

    address: str
    words: str


@dataclass(frozen=True, slots=True)
class WornModel:
    """One line of what is in use."""

    sensor: str
    athlete: str | None
    who: str
    site: str  #: muscle site, "heart rate" or "work"
    name: str
    reading: str  #: STRAP, WORK or an adapter's name
    value: str
    tone: Tone
    state: str  #: link, contact and battery in a few words
    needs: bool  #: somebody has to do something
    hint: str  #: what is wrong and what to do; empty when nothing is
    caution: str  #: what to mind although nothing is wrong
    about: str  #: make, battery and signal in a line
    choices: tuple[ChoiceModel, ...]
    can_retry: bool
    wheel: str = ""  #: "2.105", or empty


@dataclass(frozen=True, slots=True)
class AthleteModel:
    """Somebody to whom a sensor can be given."""

    athlete: str
    name: str
    band: str  #: "142–154", or empty
    adipose: str = ""  #: "4.5", or empty


@dataclass(frozen=True, slots=True)
class BaselineModel:
    """The resting baseline of one athlete."""

    athlete: str
    running: bool
    share: float  #: of the time that has passed, 0 to 1
    clock: str
    rows: tuple[tuple[str, str, str], ...]  #: site, level, words
    doubtful: bool = False  #: a site was not stable


@dataclass(frozen=True, slots=True)
class KitModel:
    """The whole page."""

    summary: str
    warnings: str  #: drain warnings and cautions that are on; they are not missed here
    trouble: str
    looking: bool
    everything: bool
    searching: str  #: what to say where nothing is listed
    nearby: tuple[NearbyModel, ...]
    worn: tuple[WornModel, ...]
    athletes: tuple[AthleteModel, ...]
    known: tuple[AthleteModel, ...]  #: from earlier sessions, and not in this one yet
    adapters: tuple[str, ...]
    baselines: tuple[BaselineModel, ...]
    outcome: tuple[str, ...]
    wishes: int  #: how many there were: the outcome is news when this has grown
