"""The recordings in replay_fixtures: what must hold of them, and their hashes."""

import json
from pathlib import Path

import pytest

from livemon.app.headless import changes_of
from livemon.estimate.balance import Balance
from livemon.monitor.session import Session
from livemon.record.reader import Recording, open_recording
from livemon.synthetic.sessions import TRAININGS
from replay_fixtures.__main__ import ESTIMATES, FOLDER, recording_text, snapshots_sha256
from replay_fixtures.estimates import SEEDS, TRACES, digest

NAMES = sorted(TRAININGS)


def recording(name: str) -> Recording:
    return open_recording(FOLDER / f"{name}.jsonl")


def warnings(name: str) -> list[dict[str, object]]:
    opened = recording(name)
    changes = [json.loads(line) for line in changes_of(opened.head, opened.events())]
    return [change for change in changes if change["type"] in {"warning_on", "warning_off"}]


@pytest.mark.parametrize("name", NAMES)
def test_a_replay_gives_the_stored_hash(name: str) -> None:
    """A changed hash is a decision: see DEVELOPERS.md."""
    stored = (FOLDER / f"{name}.sha256").read_text(encoding="utf-8").strip()

    assert snapshots_sha256(FOLDER / f"{name}.jsonl") == stored


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", TRACES)
def test_all_that_is_estimated_each_second_is_as_stored(name: str, seed: int) -> None:
    """A changed hash is a decision here, too: some number behind a snapshot is another one."""
    stored = ESTIMATES.read_text(encoding="utf-8").splitlines()

    assert f"{digest(name, seed)}  {name} {seed}" in stored


def test_the_simulator_makes_the_same_bytes_for_the_same_seed() -> None:
    """Compared with itself: another numpy or processor may round a last bit the other way."""
    assert recording_text("trouble") == recording_text("trouble")


@pytest.mark.parametrize("name", ["in-balance", "trouble"])
def test_nothing_warns_where_nothing_drains(name: str) -> None:
    assert warnings(name) == []


def test_the_bout_over_the_line_warns_once_and_no_other_does() -> None:
    """The fourth bout begins at 1080 s; the fall, by its script, 95 s later, at 6 %/min.

    Heart rate is seen to be steady from 1188 s on, and noise keeps the muscle level from 1212 to
    1230 s. The fall goes below the low of the bout before, so the warning is raised.
    """
    on, off = warnings("over-the-line")

    assert (on["type"], on["site"], off["type"]) == ("warning_on", "left thigh", "warning_off")
    assert 1175 < float(str(on["t_s"])) < 1230 + 25
    assert 1315 < float(str(off["t_s"])) < 1320 + 15
    assert on["bpm"] == pytest.approx(148, abs=6)


def test_the_trouble_is_really_in_it() -> None:
    """Links lost, packets cut short, repeats and contact loss, all counted."""
    from livemon.monitor.session import Session

    opened = recording("trouble")
    session = Session(opened.head)
    for event in opened.events():
        session.feed(event)
    snapshot = session.snapshot()

    assert sum(count for _, count in snapshot.rejected) > 50
    refused = dict(snapshot.lanes[0].state.refused)
    assert refused["no contact"] > 20
    assert Path(opened.path).read_text(encoding="utf-8").count('"link_down"') == 2


def test_the_word_never_contradicts_a_warning() -> None:
    seen: set[Balance] = set()

    def look(session: Session) -> None:
        for lane in session.snapshot().lanes:
            seen.update(
                site.balance
                for site in lane.state.sites
                if site.warning is not None and site.trend is not None
            )

    opened = recording("over-the-line")
    session = Session(opened.head, each_tick=look)
    for event in opened.events():
        session.feed(event)

    assert seen == {Balance.DEMAND_AHEAD}
