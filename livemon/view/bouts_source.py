"""What the Bouts page is made from: recordings of one athlete, each with its analysis."""

from collections.abc import Sequence
from dataclasses import dataclass

from livemon.analyse.session import AthleteAnalysis, AthleteRecord, BoutAnalysis
from livemon.tongue import said


@dataclass(frozen=True, slots=True, eq=False)
class BoutsSession:
    """One recording of the athlete.

    Attributes:
        recording: tells recordings apart.
        started_utc: ISO 8601; orders recordings, never calculated with.
        day: when it was made, in words; empty if that is not known.
    """

    recording: str
    started_utc: str
    day: str
    record: AthleteRecord
    analysis: AthleteAnalysis


@dataclass(frozen=True, slots=True)
class BoutKey:
    """Names a bout across recordings."""

    recording: str
    number: int


@dataclass(frozen=True, slots=True, eq=False)
class PlacedBout:
    """A bout and its place in the list, which gives it its colour and marker for good.

    Attributes:
        label: names it in a picture, as short as can be told apart.
    """

    key: BoutKey
    place: int
    label: str
    session: BoutsSession
    found: BoutAnalysis


def placed_bouts(sessions: Sequence[BoutsSession]) -> tuple[PlacedBout, ...]:
    """Return every judged bout, oldest recording first."""
    several = len(sessions) > 1
    ordered = sorted(sessions, key=lambda s: (s.started_utc, s.recording))
    pairs = [(session, found) for session in ordered for found in session.analysis.bouts]
    return tuple(
        PlacedBout(
            BoutKey(session.recording, found.bout.number),
            place,
            _label(session, found, several=several),
            session,
            found,
        )
        for place, (session, found) in enumerate(pairs)
    )


def sites_of(sessions: Sequence[BoutsSession]) -> tuple[str, ...]:
    """Return every muscle site, in the order in which they were first worn."""
    return tuple(dict.fromkeys(site for s in sessions for site in s.record.smo2))


def _label(session: BoutsSession, found: BoutAnalysis, *, several: bool) -> str:
    name = f"{found.bout.number} {found.bout.kind or said('work')}"
    return f"{name}, {session.day}" if several and session.day else name
