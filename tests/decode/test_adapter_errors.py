"""An adapter file that can't be meant is refused with file, key, expected and found."""

from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from sound_adapter import SMO2, THB, TOP, top

from livemon.decode.adapter import adapter_text, parse_adapter
from livemon.decode.shipped import shipped_adapters
from livemon.errors import AdapterError

# path of the key, words that the message must have, the file
WRONG = [
    pytest.param("", "not TOML", "name = ", id="not TOML"),
    pytest.param("", "nested too deep", "a = " + "[" * 100_000, id="nested to the skies"),
    pytest.param("livemon_adapter", "missing", top("", key="livemon_adapter"), id="no version"),
    pytest.param(
        "livemon_adapter",
        "expected a whole number from 1 to 1, found 2",
        top("livemon_adapter = 2", key="livemon_adapter"),
        id="later version",
    ),
    pytest.param(
        "livemon_adapter",
        "expected a whole number, found True",
        top("livemon_adapter = true", key="livemon_adapter"),
        id="true is no number",
    ),
    pytest.param("name", "missing; expected text", top("", key="name"), id="no name"),
    pytest.param(
        "name",
        "expected small letters, digits and hyphens, found 'My Sensor'",
        top('name = "My Sensor"', key="name"),
        id="name with a blank",
    ),
    pytest.param(
        "name",
        "expected 1 to 40 printable characters",
        top('name = "' + "x" * 41 + '"', key="name"),
        id="long name",
    ),
    pytest.param("about", "expected text, found 3", top("about = 3"), id="about"),
    pytest.param(
        "about",
        "expected 1 to 400 printable characters",
        top('about = "' + "x" * 401 + '"'),
        id="long about",
    ),
    pytest.param(
        "service",
        "expected a UUID, as 12345678-1234-1234-1234-123456789abc, found '604a-e6df'",
        top('service = "604a-e6df"', key="service"),
        id="service",
    ),
    pytest.param(
        "characteristic",
        "expected text, found 10807",
        top("characteristic = 0x2A37", key="characteristic"),
        id="characteristic",
    ),
    pytest.param(
        "byte_order",
        "expected one of little, big, found 'litle'; did you mean 'little'?",
        top('byte_order = "litle"'),
        id="byte order",
    ),
    pytest.param("rate_hz", "expected above 0 to 1000, found 0", top("rate_hz = 0"), id="rate 0"),
    pytest.param("rate_hz", "expected a number, found nan", top("rate_hz = nan"), id="rate nan"),
    pytest.param(
        "min_len", "expected a whole number from 1 to 512, found 0", top("min_len = 0"), id="len"
    ),
    pytest.param("pair", "expected true or false, found 1", top("pair = 1"), id="pair"),
    pytest.param(
        "use_start_notify",
        "expected true or false, found 'yes'",
        top('use_start_notify = "yes"'),
        id="use_start_notify",
    ),
    pytest.param(
        "charateristic",
        "unknown key; did you mean 'characteristic'?",
        top('charateristic = "2A37"'),
        id="misspelt key at the top",
    ),
    pytest.param("colour", "unknown key", top('colour = "red"'), id="unknown key at the top"),
    pytest.param("channels", "expected 1 to 16 names", top("channels = []"), id="no channel"),
    pytest.param(
        "channels", "expected different names", top('channels = ["a", "a"]'), id="channel twice"
    ),
    pytest.param("channels", "found 1", top("channels = [1]"), id="channel by number"),
    pytest.param(
        "field",
        "expected a field with quantity 'smo2' for channel 'muscle', found none",
        TOP,
        id="no field",
    ),
    pytest.param("field", "for channel 'muscle'", TOP + THB, id="no SmO2"),
    pytest.param(
        "field",
        "for channel 'b'",
        top('channels = ["a", "b"]').replace("offset", 'channel = "a"\noffset'),
        id="no SmO2 for one of two channels",
    ),
    pytest.param("field", "expected a list, found 3", TOP + "field = 3", id="field no list"),
    pytest.param(
        "field",
        "expected at most 8 presence bits, found 9",
        TOP
        + SMO2
        + "".join(
            THB + f"present_if = {{ offset = {3 + bit // 8}, bit = {bit % 8} }}\n"
            for bit in range(9)
        ),
        id="nine presence bits",
    ),
    pytest.param(
        "start_up[0].octets",
        "expected octets as '01 0A', found '1'",
        top('[[start_up]]\ncharacteristic = "2A37"\noctets = "1"'),
        id="half an octet",
    ),
    pytest.param(
        "start_up[0].characteristic",
        "expected a UUID",
        top('[[start_up]]\ncharacteristic = "x"\noctets = "01"'),
        id="start-up without a place",
    ),
    pytest.param(
        "start_up[0].respond",
        "unknown key; did you mean 'response'?",
        top('[[start_up]]\ncharacteristic = "2A37"\noctets = "01"\nrespond = true'),
        id="misspelt key in a start-up write",
    ),
]


@pytest.mark.parametrize(("path", "words", "text"), WRONG)
def test_says_file_key_expected_and_found(path: str, words: str, text: str) -> None:
    with pytest.raises(AdapterError) as caught:
        parse_adapter(text, where="wrong.toml")

    assert caught.value.path == path
    assert words in caught.value.problem
    assert str(caught.value).startswith(f"wrong.toml: {path}")


def test_the_sound_file_that_the_wrong_ones_are_made_of_is_sound() -> None:
    assert parse_adapter(TOP + SMO2 + THB, where="sound").layout.min_len == 3


def test_what_is_not_said_has_a_default() -> None:
    said = parse_adapter(TOP + SMO2, where="sound").connection

    assert (said.about, said.rate_hz, said.start_up) == ("", None, ())
    assert (said.use_start_notify, said.pair) == (True, False)


def test_what_is_said_is_kept() -> None:
    text = top("pair = true\nuse_start_notify = false\nrate_hz = 1000")
    said = parse_adapter(text, where="said").connection

    assert (said.use_start_notify, said.pair, said.rate_hz) == (False, True, 1000.0)


def test_what_is_as_long_or_as_little_as_can_be_is_kept() -> None:
    text = top('about = "' + "x" * 400 + '"\nrate_hz = 0.5\nchannels = ["thigh"]')
    adapter = parse_adapter(text, where="ends")

    assert (len(adapter.connection.about), adapter.connection.rate_hz) == (400, 0.5)
    assert adapter.layout.channels == ("thigh",)


def test_a_start_up_write_asks_for_a_response_unless_it_says_otherwise() -> None:
    row = '[[start_up]]\ncharacteristic = "2A37"\noctets = "01"\n'
    adapter = parse_adapter(top(row + row + "response = false"), where="start-up")

    assert [write.response for write in adapter.connection.start_up] == [True, False]


def test_as_many_start_up_writes_as_there_may_be() -> None:
    row = '[[start_up]]\ncharacteristic = "2A37"\noctets = "01"\n'
    assert len(parse_adapter(top(row * 16), where="most").connection.start_up) == 16
    with pytest.raises(AdapterError, match="expected at most 16, found 17"):
        parse_adapter(top(row * 17), where="more")


def test_eight_presence_bits_are_not_too_many() -> None:
    quantities = ("thb", "o2hb", "hhb", "contact", "quality", "sequence", "device_time", "battery")
    unit = {"thb": 'unit = "a.u."', "o2hb": 'unit = "a.u."', "hhb": 'unit = "a.u."'}
    optional = "".join(
        f'\n[[field]]\nquantity = "{quantity}"\noffset = {3 + bit}\nformat = "uint8"\n'
        f"present_if = {{ offset = 2, bit = {bit} }}\n{unit.get(quantity, '')}\n"
        for bit, quantity in enumerate(quantities)
    )

    assert parse_adapter(TOP + SMO2 + optional, where="eight").layout.min_len == 2


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    path = tmp_path / "nowhere.toml"
    with pytest.raises(AdapterError) as caught:
        adapter_text(path)

    assert str(caught.value).startswith(f"{path}: can't be read: ")
    assert str(caught.value).count(path.name) == 1


def test_a_file_of_other_bytes_is_named(tmp_path: Path) -> None:
    path = tmp_path / "bytes.toml"
    path.write_bytes(b'name = "\xff"')
    with pytest.raises(AdapterError) as caught:
        adapter_text(path)

    assert "expected UTF-8 text" in caught.value.problem


def test_a_good_file_is_read(tmp_path: Path) -> None:
    path = tmp_path / "plain.toml"
    path.write_text(shipped_adapters()["invented-plain"], encoding="utf-8")

    adapter = parse_adapter(adapter_text(path), where=str(path))

    assert adapter.name == "invented-plain"
    assert adapter.connection.rate_hz == 4.0


values = st.sampled_from(
    ["1", "-1", "0.5", "nan", "true", '"next"', "[]", "[1, 2]", "{}", "0x" + "F" * 5000, "9" * 5000]
)


@example("a = " + "9" * 5000)
@example("\0")
@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    with pytest.raises(AdapterError):
        parse_adapter(text, where="any")


@given(st.data())
def test_a_sound_file_with_one_value_changed_is_read_or_refused(data: st.DataObject) -> None:
    text = shipped_adapters()["invented-rich"]
    keyed = [line for line in text.splitlines() if " = " in line]
    line = data.draw(st.sampled_from(keyed))
    changed = f"{line.split(' = ')[0]} = {data.draw(values)}"
    with suppress(AdapterError):
        parse_adapter(text.replace(line, changed), where="changed")
