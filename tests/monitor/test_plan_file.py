"""Plans are read from TOML, and what is wrong in one is told with file, key, expected and found."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.errors import ConfigError
from livemon.monitor.plan import Step, StepKind, duration_words
from livemon.monitor.plan_file import parse_plan, ready_made_plans

WHOLE = """
name = "Hall, Tuesday"
about = "invented"
rounds = 2
[[step]]
do = "bout"
work = "sled push"
duration_s = 240
band_bpm = [150, 158]
load_kg = 60
[[step]]
do = "recovery"
refill_pct = 95
limit_s = 300
"""


def test_reads_a_plan_with_its_rounds_written_out() -> None:
    plan = parse_plan(WHOLE, "p.toml")

    bout = Step(StepKind.BOUT, "sled push", 240, band_bpm=(150, 158), load=(("load_kg", 60.0),))
    recovery = Step(StepKind.RECOVERY, refill_pct=95, limit_s=300)
    assert (plan.name, plan.about) == ("Hall, Tuesday", "invented")
    assert plan.steps == (bout, recovery, bout, recovery)


def step(body: str) -> str:
    return f'name = "x"\n[[step]]\n{body}\n'


@pytest.mark.parametrize(
    ("text", "message"),
    [
        pytest.param("name = ", "p.toml: not TOML: ", id="no TOML"),
        pytest.param('name = "x"', "p.toml: step: missing; a plan has at least one", id="no step"),
        pytest.param(
            step('do = "sprint"'),
            "p.toml: step[0].do: expected one of warm-up, bout, recovery, found 'sprint'",
            id="unknown step",
        ),
        pytest.param(
            step('do = "bout"\nduration = 7'),
            "p.toml: step[0].duration: unknown key; did you mean 'duration_s'?",
            id="misspelt key",
        ),
        pytest.param(
            step('do = "bout"\nduration_s = 0'),
            "p.toml: step[0].duration_s: expected 1 to 86400 s, found 0.0",
            id="no duration",
        ),
        pytest.param(
            step('do = "bout"\nduration_s = 60\ndistance_m = 400'),
            "p.toml: step[0].distance_m: a step ends in one way, and duration_s is there already",
            id="two ends",
        ),
        pytest.param(
            step('do = "bout"\nrefill_pct = 95\nlimit_s = 60'),
            "p.toml: step[0].refill_pct: only a recovery has it",
            id="refilling at work",
        ),
        pytest.param(
            step('do = "recovery"\nrefill_pct = 95'),
            "p.toml: step[0].limit_s: refill_pct and limit_s belong together",
            id="a recovery that might never end",
        ),
        pytest.param(
            step('do = "bout"\nlimit_s = 95'),
            "p.toml: step[0].limit_s: refill_pct and limit_s belong together",
            id="a limit alone",
        ),
        pytest.param(
            step('do = "recovery"'),
            "p.toml: step[0].duration_s: missing; or give refill_pct and limit_s",
            id="a recovery without an end",
        ),
        pytest.param(
            step('do = "recovery"\nduration_s = 60\nband_bpm = [100, 120]'),
            "p.toml: step[0].band_bpm: only a bout has it",
            id="a band at rest",
        ),
        pytest.param(
            step('do = "recovery"\ndistance_m = 60'),
            "p.toml: step[0].distance_m: only a bout has it",
            id="a distance at rest",
        ),
        pytest.param(
            step('do = "bout"\nband_bpm = [158, 150]'),
            "p.toml: step[0].band_bpm: expected lower edge, then upper, found [158, 150]",
            id="band backwards",
        ),
        pytest.param(
            step('do = "bout"\nload_w = 100\nload_kg = 10'),
            "p.toml: step[0].load_w: a step has one load, and load_kg is there already",
            id="two loads",
        ),
        pytest.param(
            step('do = "bout"').replace("\n", "\nrounds = 0\n", 1),
            "p.toml: rounds: expected a whole number from 1 to 100, found 0",
            id="no rounds",
        ),
        pytest.param(
            'name = "x"\nrounds = 100\n' + '[[step]]\ndo = "bout"\n' * 16,
            "p.toml: rounds: expected at most 1500 steps in all, found more",
            id="more than a day",
        ),
    ],
)
def test_says_file_key_expected_and_found(text: str, message: str) -> None:
    with pytest.raises(ConfigError) as caught:
        parse_plan(text, "p.toml")

    assert str(caught.value).startswith(message)
    assert caught.value.where == "p.toml"


keys = st.sampled_from(
    ["do", "work", "duration_s", "distance_m", "refill_pct", "limit_s", "band_bpm", "load_w", "x"]
)
values = st.sampled_from(
    ['"bout"', '"recovery"', "60", "-1", "1e999", "nan", "[150, 158]", "[1]", "true", '""', "{}"]
)


@given(st.dictionaries(keys, values, max_size=5))
def test_any_step_is_read_or_refused(rows: dict[str, str]) -> None:
    body = "\n".join(f"{key} = {value}" for key, value in rows.items())
    try:
        plan = parse_plan(step(body), "p.toml")
    except ConfigError:
        return
    assert plan.steps[0].words()


@pytest.mark.parametrize(("name", "text"), ready_made_plans())
def test_the_plans_that_come_along_can_be_read_and_say_that_they_are_invented(
    name: str, text: str
) -> None:
    plan = parse_plan(text, name)

    assert "invented" in plan.about
    assert plan.steps[-1].kind is StepKind.RECOVERY


def test_there_are_the_three_plans_that_were_promised() -> None:
    names = [name for name, _ in ready_made_plans()]

    assert names == ["by_refilling.toml", "one_heart_rate.toml", "steps.toml"]


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0.4, "0 s"), (45, "45 s"), (59.6, "1 min"), (240, "4 min"), (270, "4 min 30 s")],
)
def test_durations_are_said_as_people_do(seconds: float, words: str) -> None:
    assert duration_words(seconds) == words
