"""Reading in the background, late corrections in the file, and what the command prints."""

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from class_recording import class_recording

from livemon.analyse.gather import records_of
from livemon.app.bouts_correct import checked_entry, correct_bout
from livemon.app.bouts_desk import BoutsDesk, BoutsWish, sessions_of
from livemon.app.bouts_read import Meanwhile, read_athlete
from livemon.app.cli import main
from livemon.errors import RecordingError, UsageError
from livemon.record.at_once import write_recording
from livemon.record.reader import open_recording
from livemon.view.bouts_commands import BoutEntry
from livemon.view.bouts_source import BoutKey

FIXTURES = Path(__file__).parent.parent.parent / "replay_fixtures"


@pytest.fixture
def recording(tmp_path: Path) -> Path:
    return Path(shutil.copy(FIXTURES / "in-balance.jsonl", tmp_path / "in-balance.jsonl"))


@pytest.fixture
def desk(recording: Path) -> Iterator[BoutsDesk]:
    made = BoutsDesk(BoutsWish((recording,)))
    yield made
    made.stop()


def corrected(path: Path, entry: BoutEntry, bout: int = 2) -> None:
    athlete = json.loads(path.read_text().splitlines()[0])["athletes"][0]["athlete"]
    correct_bout(path, athlete, bout, checked_entry(entry))


def test_a_correction_is_appended_and_nothing_is_changed(recording: Path) -> None:
    before = recording.read_bytes()
    corrected(recording, BoutEntry(kind="box jumps", rpe="6,5", load="80", load_unit="kg"))

    after = recording.read_bytes()
    assert after.startswith(before)
    added = [json.loads(line) for line in after[len(before) :].splitlines()]
    assert [line["kind"] for line in added] == ["work", "load", "rpe"]
    assert {line["athlete"] for line in added} == {"a1"}
    assert all(line["at_ns"] < line["t_ns"] for line in added)  # entered late


def test_the_analysis_takes_the_correction(recording: Path) -> None:
    entry = BoutEntry(
        kind="box jumps", load="80", load_unit="kg", rpe="6.5", lactate="4.2",
        sampling_site="earlobe",
    )  # fmt: skip
    corrected(recording, entry)

    found = sessions_of(BoutsWish((recording,)))[0].analysis.bouts[1]
    assert found.bout.kind == "box jumps"
    assert found.bout.intensity is not None
    assert (found.bout.intensity.value, found.bout.intensity.unit) == (80.0, "kg")
    assert found.bout.rpe == 6.5
    assert found.lactate.last.value == 4.2
    others = sessions_of(BoutsWish((recording,)))[0].analysis.bouts
    assert [b.bout.kind for b in others] == ["rowing", "box jumps", "sled push"]


def test_the_last_of_several_corrections_holds(recording: Path) -> None:
    for rpe in ("3", "9", "5"):
        corrected(recording, BoutEntry(rpe=rpe))

    assert sessions_of(BoutsWish((recording,)))[0].analysis.bouts[1].bout.rpe == 5
    lines = [json.loads(line) for line in recording.read_text().splitlines()]
    said = [line for line in lines if line.get("kind") == "rpe"]
    assert [bool(line.get("replaces")) for line in said] == [False, True, True]


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        pytest.param(BoutEntry(rpe="15"), "RPE", id="another scale"),
        pytest.param(BoutEntry(load="heavy", load_unit="kg"), "not a number", id="a word"),
        pytest.param(BoutEntry(load="80", load_unit="stone"), "expected one of", id="a unit"),
        pytest.param(BoutEntry(lactate="300"), "lactate", id="a slipped point"),
    ],
)
def test_what_can_not_be_used_is_told_at_once(entry: BoutEntry, words: str) -> None:
    with pytest.raises(UsageError, match=words):
        checked_entry(entry)


def test_nothing_entered_writes_nothing(recording: Path) -> None:
    before = recording.read_bytes()
    corrected(recording, BoutEntry())

    assert recording.read_bytes() == before


def test_a_bout_that_is_not_there_can_not_be_corrected(recording: Path) -> None:
    with pytest.raises(UsageError, match="no bout 9"):
        corrected(recording, BoutEntry(rpe="5"), bout=9)


def test_a_file_that_is_gone_is_not_made_anew(tmp_path: Path) -> None:
    with pytest.raises(RecordingError):
        correct_bout(tmp_path / "gone.jsonl", "a1", 1, checked_entry(BoutEntry(rpe="5")))
    assert list(tmp_path.iterdir()) == []


def test_the_desk_reads_everything_and_says_when_it_is_done(desk: BoutsDesk) -> None:
    before = desk.latest()
    assert (before.done, before.total, before.sessions) == (0, 1, ())
    assert before.doing

    desk.start()
    assert desk.wait()
    state = desk.latest()
    assert (state.done, state.total, state.doing) == (1, 1, "")
    assert [len(s.analysis.bouts) for s in state.sessions] == [3]
    assert state.troubles == ()


def test_the_desk_keeps_a_correction_and_analyses_again(desk: BoutsDesk) -> None:
    desk.start()
    assert desk.wait()
    key = BoutKey(desk.latest().sessions[0].recording, 2)
    desk.correct(key, BoutEntry(kind="box jumps"))
    assert desk.wait()

    assert desk.latest().sessions[0].analysis.bouts[1].bout.kind == "box jumps"
    assert desk.latest().doing == ""


def test_one_bad_recording_hides_no_other(recording: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad.jsonl"
    bad.write_text("no recording\n")
    desk = BoutsDesk(BoutsWish((bad, recording)))
    desk.start()
    assert desk.wait()
    desk.stop()

    assert len(desk.latest().sessions) == 1
    assert "bad.jsonl" in desk.latest().troubles[0]


@pytest.fixture
def class_of_two(tmp_path: Path) -> Path:
    """Two bouts of four minutes each; at work Bo's SmO2 is ten points lower than Ada's."""
    path = tmp_path / "class.jsonl"
    write_recording(path, *class_recording())
    return path


def test_a_class_opens_with_the_first_athlete_and_shows_another_when_asked(
    class_of_two: Path,
) -> None:
    desk = BoutsDesk(BoutsWish((class_of_two,)))
    desk.start()
    assert desk.wait()
    first = desk.latest()
    desk.choose("Bo")
    assert desk.wait()
    second = desk.latest()
    desk.stop()

    assert first.athletes == ("Ada", "Bo")
    assert (first.athlete, first.sessions[0].record.athlete) == ("Ada", "Ada")
    assert (second.athlete, second.sessions[0].record.athlete) == ("Bo", "Bo")
    levels = [s.sessions[0].analysis.bouts[0].muscles[0].late.level.value for s in (first, second)]
    assert levels == pytest.approx([60, 50], abs=0.5)
    assert first.troubles == second.troubles == ()


def test_several_recordings_open_with_the_first_ones_athlete(
    class_of_two: Path, recording: Path
) -> None:
    desk = BoutsDesk(BoutsWish((class_of_two, recording)))
    desk.start()
    assert desk.wait()
    state = desk.latest()
    desk.stop()

    assert state.athletes == ("Ada", "Bo", "Lane 3")
    assert state.athlete == "Ada"
    assert len(state.sessions) == 1
    assert "nobody is called 'Ada'" in state.troubles[0]


def test_who_was_named_by_id_is_shown_by_name(class_of_two: Path) -> None:
    desk = BoutsDesk(BoutsWish((class_of_two,), athlete="a2"))
    desk.start()
    assert desk.wait()
    state = desk.latest()
    desk.stop()

    assert (state.athletes, state.athlete) == (("Ada", "Bo"), "Bo")
    assert state.sessions[0].record.athlete == "Bo"


def test_of_two_wishes_in_a_row_the_last_holds(class_of_two: Path) -> None:
    desk = BoutsDesk(BoutsWish((class_of_two,)))
    desk.choose("Bo")
    desk.choose("Ada")
    desk.start()
    assert desk.wait()
    state = desk.latest()
    desk.stop()

    assert (state.athlete, state.doing) == ("Ada", "")
    assert [s.record.athlete for s in state.sessions] == ["Ada"]


def test_the_first_bout_is_shown_before_the_rest_is_read(class_of_two: Path) -> None:
    shown: list[int] = []
    shares: list[float] = []
    meanwhile = Meanwhile(
        told=shares.append, first=lambda session: shown.append(len(session.analysis.bouts))
    )
    found = read_athlete(class_of_two, "Bo", frozenset(), meanwhile)

    assert found is not None
    assert shown == [1]
    assert len(found.session.analysis.bouts) == 2
    assert shares[-1] == 1.0


def test_one_athlete_of_a_class_is_read_as_when_all_are(class_of_two: Path) -> None:
    opened = open_recording(class_of_two)
    whole = {r.athlete: r for r in records_of(opened.head, opened.events())}
    found = read_athlete(class_of_two, "Bo", frozenset(), Meanwhile())

    assert found is not None
    for one, other in (
        (found.session.record.heart_rate, whole["Bo"].heart_rate),
        (found.session.record.smo2["left thigh"], whole["Bo"].smo2["left thigh"]),
    ):
        assert one.t_s.tolist() == other.t_s.tolist()
        assert one.values.tolist() == other.values.tolist()
    assert found.session.record.bouts == whole["Bo"].bouts


def test_reading_is_left_off_when_somebody_is_in_a_hurry(class_of_two: Path) -> None:
    assert read_athlete(class_of_two, "Bo", frozenset(), Meanwhile(stop=lambda: True)) is None


def test_stopping_before_the_start_and_twice_is_harmless(recording: Path) -> None:
    desk = BoutsDesk(BoutsWish((recording,)))
    desk.stop()
    desk.stop()


def test_an_athlete_who_is_not_there_is_told() -> None:
    with pytest.raises(UsageError, match="it has Lane 3"):
        sessions_of(BoutsWish((FIXTURES / "in-balance.jsonl",), athlete="Nobody"))


def test_history_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    names = [str(FIXTURES / f"{name}.jsonl") for name in ("in-balance", "over-the-line")]

    assert main(["bouts", *names, "--history", "half-recovery time"]) == 0
    said = capsys.readouterr().out
    assert "Half-recovery time, s: left thigh, rowing" in said
    assert "19 s either side of the first figure" in said


def test_without_a_display_the_window_says_why_and_the_text_follows(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)

    assert main(["bouts", str(FIXTURES / "in-balance.jsonl"), "--window"]) == 0
    said = capsys.readouterr()
    assert "There is no display" in said.err
    assert "Bout 1, rowing, 4:00" in said.out
