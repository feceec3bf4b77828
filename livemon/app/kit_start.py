"""The kit that a live session begins with: what the command line names, or nothing yet."""

import argparse
from dataclasses import dataclass
from uuid import uuid4

from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_kept import load_adapters, load_roster, save_adapter, save_roster
from livemon.app.kit_options import kit_of, sensors_named
from livemon.app.kit_people import People
from livemon.app.places import data_folder
from livemon.app.session_start import new_session, started_utc
from livemon.decode.shipped import shipped_adapters
from livemon.events import Head
from livemon.link.identity import Registry
from livemon.link.plan import Plan


@dataclass(frozen=True, slots=True)
class Start:
    """Who is there, how each sensor is read, and what can be chosen further."""

    head: Head
    plans: tuple[Plan, ...]
    registry: Registry
    adapters: KitAdapters


def start_of(arguments: argparse.Namespace, window: bool, host: str, known: Registry) -> Start:
    """Return what the options say; in the window they need not name any sensor.

    Raises:
        UsageError: nothing is named and there is no window to choose in, or something is said in
            a way that can't be meant.
        AdapterError: an adapter is wrong.
    """
    texts = shipped_adapters() | load_adapters(data_folder())
    if window and not sensors_named(arguments):
        head = Head(started_utc(), new_session())
        return Start(head, (), known, _adapters(texts))
    kit = kit_of(arguments, host, known)
    head = Head(
        started_utc(), new_session(), (kit.athlete,), kit.sensors, kit.adapters, kit.assigned
    )
    return Start(head, kit.plans, kit.registry, _adapters(texts | dict(kit.adapters)))


def kept_people() -> People:
    """Return the people met before on this computer; changes are kept there.

    Raises:
        ConfigError: the file can't be read.
    """
    folder = data_folder()
    return People(load_roster(folder), lambda roster: save_roster(folder, roster))


def _adapters(texts: dict[str, str]) -> KitAdapters:
    return KitAdapters(texts, lambda name, text: save_adapter(data_folder(), name, text))


def new_id(kind: str) -> str:
    """Return an id of our own for a sensor or an athlete: random, so that it tells nothing."""
    return f"{kind}-{uuid4().hex[:6]}"
