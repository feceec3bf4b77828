"""Which broker, by which name and code: the options that a relay and a hub share.

A code on the command line could be read by everybody on the computer and stays in the shell's
history, so it comes from the environment or from a file that nobody else may read.
"""

import argparse
import os
import ssl
import stat
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from livemon.errors import ConfigError, UsageError
from livemon.net.address import BrokerAddress, check_secrecy, read_address
from livemon.net.broker import Will
from livemon.net.certificates import trusting
from livemon.net.mqtt import MqttBroker

USER: Final = "LIVEMON_MQTT_USER"
CODE: Final = "LIVEMON_MQTT_CODE"


def add_broker_options(parser: argparse.ArgumentParser) -> None:
    """Add how to be let in, and whom to trust."""
    parser.add_argument(
        "--credentials",
        metavar="FILE",
        help="file with the user name on its first line and the code on its second, readable by "
        f"you alone (else {USER} and {CODE} in the environment)",
    )
    parser.add_argument(
        "--ca-file", metavar="FILE", help="certificate of the authority that vouches for the broker"
    )
    parser.add_argument(
        "--plain-text",
        action="store_true",
        help="yes, send without encryption over a network that is mine alone",
    )


def broker_address(
    text: str, arguments: argparse.Namespace, environment: Mapping[str, str] = os.environ
) -> BrokerAddress:
    """Return where the broker is, with name and code.

    Raises:
        UsageError: the address can't be meant, tells a code, or would be read by others.
        ConfigError: the file with the code can't be used.
    """
    address = read_address(text)
    if address.password is not None:
        raise UsageError(
            "a code on the command line can be read by everybody on this computer; put it into "
            f"the environment as {CODE}, or into a file for --credentials"
        )
    if arguments.credentials is not None:
        user, code = _credentials(Path(arguments.credentials))
        address = replace(address, user=user, password=code)
    elif environment.get(CODE):
        user = address.user or environment.get(USER, "")
        if not user:
            raise UsageError(f"{CODE} is set, but no user name: set {USER}, too.")
        address = replace(address, user=user, password=environment[CODE])
    check_secrecy(address, plain_text_is_fine=arguments.plain_text)
    return address


def broker_of(
    address: BrokerAddress, ca_file: str | None, identifier: str, will: Will | None = None
) -> MqttBroker:
    """Return the way to the broker.

    Raises:
        UsageError: the CA file can't be used.
    """
    return MqttBroker(address, identifier, will=will, trust=trust_for(address, ca_file))


def trust_for(address: BrokerAddress, ca_file: str | None) -> ssl.SSLContext | None:
    """Return what vouches for the broker there; None where it speaks plain text.

    Raises:
        UsageError: the CA file can't be used.
    """
    return trusting(None if ca_file is None else Path(ca_file)) if address.tls else None


def _credentials(path: Path) -> tuple[str, str]:
    try:
        if os.name == "posix" and path.stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO):
            raise ConfigError(str(path), "", "others may read it; say: chmod 600 FILE")
        lines = path.read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigError(str(path), "", f"can't be read: {error}") from error
    if len(lines) < 2 or not lines[0].strip() or not lines[1].strip():
        raise ConfigError(str(path), "", "expected the user name on line 1 and the code on line 2")
    return lines[0].strip(), lines[1].strip()
