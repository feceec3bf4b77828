"""Join codes and invitations: what one side says, the other reads; anything else is told."""

from hashlib import sha256
from ipaddress import IPv4Address, ip_address

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.errors import UsageError
from livemon.net.share_code import ALPHABET, JoinCode, mark_of, new_secret, read_code, same
from livemon.net.share_uri import Invitation, join_uri, read_join_uri

halves = st.text(ALPHABET, min_size=8, max_size=8)
codes = st.builds(JoinCode, halves, st.none() | halves)
addresses = st.ip_addresses().filter(lambda each: getattr(each, "scope_id", None) is None)
ports = st.integers(1, 65535)
CODE = JoinCode("K7QM3XHD", "9PTRW4NA")


@given(codes)
def test_a_code_is_read_as_it_is_shown(code: JoinCode) -> None:
    assert read_code(str(code)) == code
    assert read_code(f" {str(code).lower().replace('-', ' ')} ") == code


@given(st.text(max_size=40))
@example("K7QM-3XHD-9PTR")
@example("0OIL-1258")
@example("")
def test_what_is_no_code_is_told(text: str) -> None:
    try:
        code = read_code(text)
    except UsageError:
        return
    assert set(str(code)) <= set(ALPHABET) | {"-"}


def test_no_letter_is_mistaken_for_another() -> None:
    assert not set(ALPHABET) & set("0O1ILUZ2S5B8")
    assert len(set(ALPHABET)) == len(ALPHABET) == 24


def test_a_letter_that_never_occurs_is_named() -> None:
    with pytest.raises(UsageError, match="O never occurs"):
        read_code("K7QM-3XHO")


def test_each_letter_of_a_secret_is_drawn_from_all() -> None:
    asked: list[int] = []
    secret = new_secret(lambda below: asked.append(below) or len(asked) - 1)
    assert asked == [24] * 8
    assert secret == ALPHABET[:8]


def test_a_mark_is_scrypt_of_the_certificate() -> None:
    """Against cryptography's own scrypt (RFC 7914), and digits written another way."""
    scrypt = pytest.importorskip("cryptography.hazmat.primitives.kdf.scrypt").Scrypt
    salt = b"livemon: mark of a certificate, 1"
    number = int.from_bytes(scrypt(salt, 16, 2**14, 8, 1).derive(b"a certificate"), "big")
    expected = "".join(ALPHABET[number // 24**place % 24] for place in range(8))

    assert mark_of(b"a certificate") == expected
    assert mark_of(b"another") != expected


@given(addresses, ports, codes, st.binary(min_size=32, max_size=32))
@example(ip_address("::1"), 65535, CODE, bytes(32))
@example(ip_address("10.0.0.1"), 1, CODE, b"\xff" * 32)
def test_an_invitation_comes_back(host, port: int, code: JoinCode, fingerprint: bytes) -> None:
    invitation = Invitation(host, port, code, fingerprint)

    assert read_join_uri(join_uri(invitation)) == invitation


@given(codes, ports)
def test_on_this_computer_no_fingerprint_is_needed(code: JoinCode, port: int) -> None:
    invitation = Invitation(IPv4Address("127.0.0.1"), port, code, None)

    assert read_join_uri(join_uri(invitation)) == invitation


SHA = "mPrT" * 10 + "mPQ"
GOOD = f"livemon://192.168.1.20:8883/join?code=K7QM-3XHD-9PTR-W4NA&sha256={SHA}"


def test_the_documented_line_is_read() -> None:
    invitation = read_join_uri(GOOD)
    assert (str(invitation.host), invitation.port, invitation.code) == ("192.168.1.20", 8883, CODE)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("", id="nothing"),
        pytest.param("mqtts://192.168.1.20:8883/join", id="a broker"),
        pytest.param(GOOD.replace("livemon:", "https:"), id="a web page"),
        pytest.param(GOOD.replace("192.168.1.20", "hub.example"), id="a name"),
        pytest.param(GOOD.replace(":8883", ""), id="no port"),
        pytest.param(GOOD.replace("8883", "0"), id="port 0"),
        pytest.param(GOOD.replace("8883", "70000"), id="no such port"),
        pytest.param(GOOD.replace("join?", "open?"), id="another path"),
        pytest.param(GOOD.replace("192", "me@192"), id="a user"),
        pytest.param(GOOD + "#x", id="a fragment"),
        pytest.param(GOOD + "&more=1", id="something more"),
        pytest.param(GOOD.partition("&")[0] + "&code=K7QM-3XHD", id="two codes"),
        pytest.param(GOOD.partition("&")[0], id="another computer without fingerprint"),
        pytest.param(GOOD[:-4], id="a short fingerprint"),
        pytest.param(GOOD + "%", id="no base64"),
        pytest.param(GOOD.replace("K7QM", "K7Q0"), id="a bad code"),
    ],
)
def test_what_is_no_invitation_is_told(text: str) -> None:
    with pytest.raises(UsageError):
        read_join_uri(text)


@given(st.text(max_size=120))
def test_any_text_is_an_invitation_or_told(text: str) -> None:
    try:
        read_join_uri(text)
    except UsageError:
        return


def test_what_is_told_does_not_tell_the_code() -> None:
    with pytest.raises(UsageError) as told:
        read_join_uri(GOOD + "#x")
    assert "K7QM" not in str(told.value)


def test_secrets_are_compared_as_a_whole() -> None:
    assert same("K7QM3XHD", "K7QM3XHD")
    assert not same("K7QM3XHD", "K7QM3XH")
    assert not same("K7QM3XHD", "Ü")


def test_a_qr_code_says_the_line() -> None:
    """Read by another library (zxing-cpp) than the one that draws it."""
    zxingcpp = pytest.importorskip("zxingcpp")
    numpy = pytest.importorskip("numpy")
    from livemon.net.share_qr import qr_matrix, terminal_lines

    invitation = Invitation(ip_address("192.168.1.20"), 8883, CODE, sha256(b"x").digest())
    matrix = qr_matrix(join_uri(invitation))
    picture = numpy.where(numpy.array(matrix), 0, 255).astype("uint8")
    (read,) = zxingcpp.read_barcodes(numpy.kron(picture, numpy.ones((4, 4), "uint8")))
    assert read.text == join_uri(invitation)

    upper_lower = {" ": (0, 0), "▀": (1, 0), "▄": (0, 1), "█": (1, 1)}
    rows: list[tuple[bool, ...]] = []
    for line in terminal_lines(matrix):
        cells = line.removeprefix("\x1b[30;47m").removesuffix("\x1b[0m")
        pairs = [upper_lower[cell] for cell in cells]
        rows += [tuple(bool(pair[half]) for pair in pairs) for half in (0, 1)]
    assert tuple(rows[: len(matrix)]) == matrix
