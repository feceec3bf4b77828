"""What a usable adapter probably doesn't mean is pointed out; a good one is not nagged about."""

import pytest
from sound_adapter import SMO2, TOP

from livemon.decode.check import check_adapter
from livemon.decode.shipped import shipped_adapters
from livemon.errors import AdapterError

CONTACT = '[[field]]\nquantity = "contact"\noffset = 2\nformat = "uint8"\n'
COUNTER = '[[field]]\nquantity = "sequence"\noffset = 3\nformat = "uint8"\n'
GOOD = (
    TOP + "rate_hz = 4\n" + SMO2 + "scale = { d = -1 }\nnot_known = [65535]\n" + CONTACT + COUNTER
)


@pytest.mark.parametrize("name", ["invented-demo", "invented-rich"])
def test_nothing_to_say_about_the_full_examples(name: str) -> None:
    assert check_adapter(shipped_adapters()[name], where=name) == ()


def test_the_plain_example_lacks_what_it_lacks() -> None:
    findings = check_adapter(shipped_adapters()["invented-plain"], where="plain")

    assert [finding.split(":")[0] for finding in findings] == [
        "no contact field",
        "no sequence field",
    ]


def test_a_good_adapter_gets_no_finding() -> None:
    assert check_adapter(GOOD, where="good") == ()


@pytest.mark.parametrize(
    ("old", "new", "finding"),
    [
        pytest.param("rate_hz = 4\n", "", "no rate_hz", id="rate"),
        pytest.param(CONTACT, "", "no contact field", id="contact"),
        pytest.param(COUNTER, "", "no sequence field", id="counter"),
        pytest.param("rate_hz", "min_len = 21\nrate_hz", "min_len: 21 octets are more", id="long"),
        pytest.param(
            "d = -1", "d = -4", "smo2: the format ends at 6.5535 %; is the scale right", id="scale"
        ),
        pytest.param(
            "d = -1", "m = 11, d = -1", "smo2: steps of 1.1 % are too coarse", id="coarse"
        ),
        pytest.param(
            "d = -1 }", "d = -1 }\nvalid = [0, 100.5]", "smo2: valid from 0 to 100.5 %", id="valid"
        ),
        pytest.param(
            "9424e894-6ab9-455e-9e3b-74472d54392c", "2A5F", "saturation (SpO2)", id="pulse oximeter"
        ),
        pytest.param(
            "9424e894-6ab9-455e-9e3b-74472d54392c", "2A37", "a standard one", id="heart rate"
        ),
        pytest.param(
            "rate_hz = 4\n",
            'rate_hz = 4\n[[start_up]]\ncharacteristic = "2A37"\noctets = "' + "00" * 21 + '"\n',
            "start_up[0]: 21 octets are more",
            id="long start-up write",
        ),
    ],
)
def test_one_thing_changed_gives_that_finding(old: str, new: str, finding: str) -> None:
    assert old in GOOD

    (found,) = check_adapter(GOOD.replace(old, new), where="changed")

    assert finding in found


def test_what_every_link_carries_is_not_remarked_on() -> None:
    """20 octets: ATT_MTU 23 less 3 (Bluetooth Core Specification, Vol 3 Part F)."""
    write = '[[start_up]]\ncharacteristic = "2A37"\noctets = "' + "00" * 20 + '"\n'
    text = GOOD.replace("rate_hz = 4\n", "rate_hz = 4\nmin_len = 20\n" + write)

    assert check_adapter(text, where="full") == ()


@pytest.mark.parametrize(
    ("form", "scale"),
    [
        pytest.param("uint8", "m = 1", id="steps of 1 %"),
        pytest.param("sint8", "m = -25, b = -5", id="-128 × -25/32 is 100 %"),
    ],
)
def test_what_is_just_enough_is_not_remarked_on(form: str, scale: str) -> None:
    text = GOOD.replace("uint16", form).replace("d = -1", scale).replace("65535", "127")

    assert check_adapter(text, where="just enough") == ()


def test_contact_of_another_channel_makes_no_reading_unknown() -> None:
    smo2 = "".join(
        SMO2.replace("offset = 0", f'offset = {at}\nchannel = "{name}"')
        for at, name in ((4, "upper"), (6, "lower"))
    )
    contact = CONTACT + 'channel = "lower"\n'
    text = TOP + 'rate_hz = 4\nchannels = ["upper", "lower"]\n' + smo2 + contact + COUNTER
    findings = check_adapter(text, where="two")

    assert [found.split(":")[0] for found in findings] == ["smo2.upper"]


def test_a_reading_that_can_not_be_unknown() -> None:
    text = GOOD.replace(CONTACT, "").replace("not_known = [65535]\n", "")

    assert "nothing says 'not known'" in check_adapter(text, where="changed")[0]


@pytest.mark.parametrize("form", ["float32", "medfloat16"])
def test_a_format_that_has_a_word_for_no_number_can_be_unknown(form: str) -> None:
    text = GOOD.replace(CONTACT, "").replace("not_known = [65535]\n", "").replace("uint16", form)
    text = text.replace(COUNTER, COUNTER.replace("offset = 3", "offset = 4"))

    assert [found.split(":")[0] for found in check_adapter(text, where=form)] == [
        "no contact field"
    ]


def test_an_unusable_adapter_is_an_error_still() -> None:
    with pytest.raises(AdapterError):
        check_adapter("", where="empty")
