"""TLS: whom we trust, and that each trouble with a certificate has its own message.

The certificates are made for each test by another library (cryptography) and are worth nothing.
"""

import asyncio
import datetime
import ipaddress
import ssl
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

pytest.importorskip("cryptography", reason="makes the certificates")

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID
from mosquitto_fixtures import Mosquitto, free_port, running

from livemon.errors import UsageError
from livemon.net.address import BrokerAddress
from livemon.net.certificates import certificate_trouble, trusting
from livemon.net.mqtt import MqttBroker, Patience

NOW = datetime.datetime.now(datetime.UTC)
DAY = datetime.timedelta(days=1)


@dataclass
class Authority:
    """A throw-away authority that signs for servers."""

    folder: Path
    name: str

    def __post_init__(self) -> None:
        self.key = ec.generate_private_key(ec.SECP256R1())
        self.subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, self.name)])
        certificate = (
            self._builder(self.subject, self.key, -DAY, DAY)
            .add_extension(x509.BasicConstraints(ca=True, path_length=None), critical=True)
            .add_extension(
                x509.KeyUsage(*[n in {5, 6} for n in range(9)]), critical=True
            )  # it may sign certificates and lists of revoked ones
            .add_extension(
                x509.SubjectKeyIdentifier.from_public_key(self.key.public_key()), critical=False
            )
            .sign(self.key, hashes.SHA256())
        )
        self.file = self.folder / f"{self.name}.pem"
        self.file.write_bytes(certificate.public_bytes(serialization.Encoding.PEM))

    def sign(
        self,
        name: x509.GeneralName,
        begins: datetime.timedelta = -DAY,
        ends: datetime.timedelta = DAY,
    ) -> tuple[Path, Path]:
        """Return certificate and key of a server."""
        key = ec.generate_private_key(ec.SECP256R1())
        subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "server")])
        certificate = (
            self._builder(subject, key, begins, ends)
            .add_extension(x509.SubjectAlternativeName([name]), critical=False)
            .add_extension(
                x509.AuthorityKeyIdentifier.from_issuer_public_key(self.key.public_key()),
                critical=False,
            )
            .sign(self.key, hashes.SHA256())
        )
        files = self.folder / "server.pem", self.folder / "server.key"
        files[0].write_bytes(certificate.public_bytes(serialization.Encoding.PEM))
        files[1].write_bytes(
            key.private_bytes(
                serialization.Encoding.PEM,
                serialization.PrivateFormat.PKCS8,
                serialization.NoEncryption(),
            )
        )
        return files

    def _builder(self, subject, key, begins, ends) -> x509.CertificateBuilder:
        return (
            x509.CertificateBuilder()
            .subject_name(subject)
            .issuer_name(self.subject)
            .public_key(key.public_key())
            .serial_number(x509.random_serial_number())
            .not_valid_before(NOW + begins)
            .not_valid_after(NOW + ends)
        )


LOOPBACK = x509.IPAddress(ipaddress.ip_address("127.0.0.1"))
OTHER_ADDRESS = x509.IPAddress(ipaddress.ip_address("192.0.2.1"))
OTHER_NAME = x509.DNSName("broker.example")


@asynccontextmanager
async def serving(certificate: Path, key: Path) -> AsyncIterator[int]:
    """A TLS server that hangs up once it has said hello."""
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    context.load_cert_chain(certificate, key)

    async def hang_up(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        writer.close()

    server = await asyncio.start_server(hang_up, "127.0.0.1", 0, ssl=context)
    async with server:
        yield server.sockets[0].getsockname()[1]


@pytest.mark.parametrize(
    ("name", "begins", "ends", "host", "trouble"),
    [
        pytest.param(LOOPBACK, -DAY, DAY, "127.0.0.1", None, id="all is well"),
        pytest.param(LOOPBACK, -2 * DAY, -DAY, "127.0.0.1", "expired", id="expired"),
        pytest.param(LOOPBACK, DAY, 2 * DAY, "127.0.0.1", "not valid yet", id="not valid yet"),
        pytest.param(OTHER_ADDRESS, -DAY, DAY, "127.0.0.1", "another address", id="address"),
        pytest.param(OTHER_NAME, -DAY, DAY, "localhost", "another name", id="name"),
    ],
)
async def test_trouble_with_a_certificate_is_told_apart(
    tmp_path, name, begins, ends, host, trouble
) -> None:
    authority = Authority(tmp_path, "ours")
    async with serving(*authority.sign(name, begins, ends)) as port:
        said = await certificate_trouble(host, port, trusting(authority.file))

    assert said is None if trouble is None else trouble in said


async def test_an_authority_that_we_do_not_know_is_told(tmp_path) -> None:
    authority, other = Authority(tmp_path, "ours"), Authority(tmp_path, "other")
    async with serving(*authority.sign(LOOPBACK)) as port:
        said = await certificate_trouble("127.0.0.1", port, trusting(other.file))

    assert said is not None
    assert "CA file" in said


async def test_a_port_without_tls_is_told(tmp_path) -> None:
    async def speak_plainly(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        writer.write(b"plain text, as an MQTT broker without TLS would")
        writer.close()

    authority = Authority(tmp_path, "ours")
    server = await asyncio.start_server(speak_plainly, "127.0.0.1", 0)
    async with server:
        port = server.sockets[0].getsockname()[1]
        said = await certificate_trouble("127.0.0.1", port, trusting(authority.file))

    assert said is not None
    assert "does not speak TLS" in said


async def test_nobody_there_is_no_trouble_with_a_certificate(tmp_path) -> None:
    trust = trusting(Authority(tmp_path, "ours").file)

    assert await certificate_trouble("127.0.0.1", free_port(), trust) is None


@pytest.mark.parametrize("content", [None, "no certificate at all"])
def test_a_ca_file_of_no_use_is_named(tmp_path, content) -> None:
    path = tmp_path / "ca.pem"
    if content is not None:
        path.write_text(content)

    with pytest.raises(UsageError, match=r"ca\.pem can't be used"):
        trusting(path)


def over_tls(broker: Mosquitto, trust: ssl.SSLContext, host: str = "127.0.0.1") -> MqttBroker:
    address = BrokerAddress(host, broker.tls_port, True, "g", "r0", "code of r0")
    return MqttBroker(address, "relay-r0", trust=trust, patience=Patience(within_s=2.0))


async def test_mosquitto_is_reached_over_tls_if_its_certificate_is_good(tmp_path) -> None:
    authority, stranger = Authority(tmp_path, "ca"), Authority(tmp_path, "stranger")
    authority.sign(LOOPBACK)
    async with running(tmp_path, tls=True) as broker:
        async with over_tls(broker, trusting(authority.file)).connection() as connection:
            await connection.publish("livemon/1/g/r0/live", b"secret", qos=1)

        with pytest.raises(UsageError, match="authority that we don't know"):
            async with over_tls(broker, trusting(stranger.file)).connection():
                pytest.fail("it should not have trusted it")
        with pytest.raises(UsageError, match="another name"):
            async with over_tls(broker, trusting(authority.file), "localhost").connection():
                pytest.fail("it should not have trusted it")
