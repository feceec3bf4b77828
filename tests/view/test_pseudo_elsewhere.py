"""Words that come from elsewhere in the program, in an invented language."""

import errno
from collections import Counter
from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest
from bleak.exc import BleakBluetoothNotAvailableReason

from livemon.app.hub_words import HubStanding, RelayHeard, hub_notices
from livemon.app.journaling import Journaling
from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_asking import ASKING, offer_words
from livemon.app.kit_kinds import STRAP_KIND, WORK_WORDS, kinds_said
from livemon.app.kit_places import check_athlete_name, check_free, check_sensor_name, sites_of
from livemon.app.plan_shelf import shipped_plans
from livemon.app.plan_total import total_said
from livemon.app.share_refused import refused_words
from livemon.app.trainings import Trainings
from livemon.decode.shipped import shipped_adapters
from livemon.errors import UsageError
from livemon.events import Athlete, Head
from livemon.link.bleak_errors import _REASONS, translate
from livemon.link.hints import hint
from livemon.link.identity import Remembered
from livemon.link.standard_work import WORK_KINDS
from livemon.link.status import Cause, LinkState
from livemon.monitor.plan import Plan, Step, StepKind, total_words
from livemon.monitor.plan_file import parse_plan
from livemon.net.share_refusals import Refusal
from livemon.record.disk import words as disk_words
from livemon.record.place import low_on_room
from livemon.record.trouble import BadLine, Problems
from livemon.record.writer import Journal
from livemon.tongue import ENGLISH, speak
from livemon.view.step_words import step_said
from translations.invented_language import left_in_english, pseudo, spoken

PLANS = tuple(parse_plan(text, name) for name, text in shipped_plans().items())
OPEN = Plan("ÿ", "", (Step(StepKind.BOUT, distance_m=500.0),))
ONE = Plan("ÿ", "", (Step(StepKind.WARM_UP, duration_s=270.0, band_bpm=(120, 130)),))
REST = Plan("ÿ", "", (Step(StepKind.RECOVERY, refill_pct=97.5, limit_s=240.0), *ONE.steps))


@pytest.fixture
def invented_language() -> Iterator[None]:
    speak(spoken())
    yield
    speak(ENGLISH)


def english(*lines: str, names: tuple[str, ...] = ()) -> list[str]:
    return [line for line in lines if left_in_english(line, set(names))]


@pytest.mark.usefixtures("invented_language")
def test_every_hint_of_a_link_speaks_it() -> None:
    troubles = ("", *_REASONS.values())
    told = set()
    for state, cause, missing_s, busy in product(LinkState, Cause, (0.0, 35.0), (False, True)):
        for trouble, links in product(troubles, (0, 7)):
            told.add(
                hint(state, missing_s=missing_s, links=links, cause=cause, busy=busy,
                     trouble=trouble, problem="pairing failed")
            )  # fmt: skip

    assert len(told) > 10
    assert english(*told) == []


@pytest.mark.usefixtures("invented_language")
def test_every_reason_why_bluetooth_can_not_be_used_is_known_to_translators() -> None:
    texts = [_REASONS[reason] for reason in BleakBluetoothNotAvailableReason]
    texts += [str(translate(error, "ÿ")) for error in (FileNotFoundError(), PermissionError())]
    assert english(*(spoken().gettext(text) for text in texts)) == []


@pytest.mark.usefixtures("invented_language")
def test_kinds_of_sensors_are_shown_in_it_and_read_by_their_english_names() -> None:
    adapters = KitAdapters(shipped_adapters())
    kinds = tuple(adapters.kinds().values())
    assert english(*kinds_said(kinds), names=adapters.names) == []
    assert all(adapters.reading((kind,)) is not None for kind in kinds)
    assert set(WORK_WORDS) == set(WORK_KINDS.values())
    assert kinds_said((STRAP_KIND,)) == (pseudo(STRAP_KIND),)
    for offered in ((), (STRAP_KIND,), kinds):
        for characteristics in (frozenset(), frozenset(f"{n}" for n in range(7))):
            words = offer_words(offered, characteristics)
            assert english(words, names=adapters.names) == []
    assert english(spoken().gettext(ASKING)) == []


@pytest.mark.usefixtures("invented_language")
def test_an_adapter_that_is_added_is_told_in_it(tmp_path: Path) -> None:
    name, text = next(iter(shipped_adapters().items()))
    path = tmp_path / f"{name}.toml"
    path.write_text(text, encoding="utf-8")
    adapters = KitAdapters({})
    first, *_ = adapters.add(path)
    again, *_ = adapters.add(path)

    assert english(first, again, names=adapters.names) == []
    assert first != again


@pytest.mark.usefixtures("invented_language")
def test_what_the_kit_refuses_is_told_in_it() -> None:
    met = Remembered("ÿ1", "ÿ1", None, None, ())
    ada = Athlete("a1", "ÿ")
    wishes = (
        lambda: check_free(met, in_use={"ÿ1"}, leaving=()),
        lambda: check_free(met, in_use=(), leaving={"ÿ1"}),
        lambda: check_athlete_name("a2", "", (ada,)),
        lambda: check_athlete_name("a2", "ÿ", (ada,)),
        lambda: check_sensor_name("ÿ1", "", ()),
        lambda: sites_of("ÿ", "", KitAdapters({})),
    )
    for wish in wishes:
        with pytest.raises(UsageError) as refused:
            wish()
        assert english(str(refused.value)) == []


@pytest.mark.usefixtures("invented_language")
def test_notices_at_the_edge_speak_it(tmp_path: Path) -> None:
    relays = (RelayHeard("r1", 0.0, False), RelayHeard("r2", 9.0, False), RelayHeard("r3", 0, True))
    standings = (
        HubStanding("not connected yet", "ÿ", relays, None),
        HubStanding("", "", (), None),
        HubStanding("", "", relays, ("ÿ", 0.0)),
    )
    notices = [words for one in standings for words in hub_notices(one)]
    assert english(*notices, *refused_words(Counter(dict.fromkeys(Refusal, 1)))) == []
    flood = refused_words(Counter(dict.fromkeys(Refusal, 54_321)))
    assert english(*flood, low_on_room(0) or "", names=("MB",)) == []

    journal = Journaling(tmp_path / "ÿ.jsonl", Head("2026-11-25T10:00:00+00:00", "ÿ"))
    assert journal.words() == pseudo("recording")
    journal.close(now_s=0.0)
    assert english(journal.words()) == []


@pytest.mark.usefixtures("invented_language")
def test_what_a_disk_refuses_is_told_in_it() -> None:
    known = [disk_words(OSError(number, "ÿ")) for number in (errno.ENOSPC, errno.EACCES)]
    assert english(*known) == []
    assert disk_words(OSError(errno.EXDEV, "Cross-device link")) == "cross-device link"


@pytest.mark.usefixtures("invented_language")
@pytest.mark.parametrize("count", [1, 12_345])
def test_the_damage_of_a_recording_is_told_in_it(count: int) -> None:
    damage = Problems(count, (BadLine(3, "ÿ"),), count, count).words()
    assert english(damage) == []
    assert f"{count:,}" in damage


@pytest.mark.usefixtures("invented_language")
def test_a_recording_that_was_deleted_is_told_in_it(tmp_path: Path) -> None:
    head = Head("2026-11-25T10:00:00+00:00", "ÿ")
    journal = Journal(tmp_path / "ÿ.jsonl", head, now_s=0.0)
    (tmp_path / "ÿ.jsonl").unlink()
    journal.tick(now_s=1.0)
    problem = journal.report.problem
    journal.close(now_s=2.0)
    assert problem
    assert english(problem) == []


@pytest.mark.usefixtures("invented_language")
@pytest.mark.parametrize("plan", [OPEN, ONE, REST])
def test_plans_are_worded_in_it(plan: Plan) -> None:
    training = Trainings(plan)
    waiting = (training.words({}), *training.standing({}))
    training.begin(0.0)
    steps = [step_said(step.words()) for step in plan.steps]

    told = (*waiting, *training.standing({}), total_said(plan))
    assert english(*told, names=(" min", " bpm")) == []
    assert english(*steps, names=(" min", " bpm")) == []


@pytest.mark.parametrize("plan", [*PLANS, OPEN, ONE, REST], ids=lambda plan: plan.name)
def test_in_english_a_plan_is_worded_as_on_the_command_line(plan: Plan) -> None:
    assert total_said(plan) == total_words(plan)
    assert [step_said(step.words()) for step in plan.steps] == [s.words() for s in plan.steps]
