"""Invented kits for looking at and testing the Kit page; no such people or sensors exist."""

from dataclasses import replace

import scenes

from livemon.estimate.resting import Rest, RestingState
from livemon.monitor.snapshot import LaneState, SessionSnapshot, Trust
from livemon.view.kit_facts import STRAP, About, Device, InUse, KitFacts, Known, Resting, Standing
from livemon.view.kit_model import KitModel
from livemon.view.kit_present import present_kit
from livemon.view.settings import ViewSettings

ADAPTERS = ("invented-demo", "invented-plain", "invented-rich")
NAMES = (
    "Ada", "Ben", "Cleo", "Dimitri", "Edda", "Farid", "Gwen", "Hugo", "Ines", "Jonas", "Kaya",
    "Lars", "Mira", "Noor", "Otto", "Pia", "Quentin", "Rosa", "Sven", "Tara", "Umut", "Vera",
    "Wim", "Yuki",
)  # fmt: skip
HELD = (
    "Not heard for 24 s. It may be switched off, dry or out of range; or another device (a phone,"
    " a watch) holds its only link: close that program, or switch that device's Bluetooth off."
)
ABOUT = About("Invented Instruments", "One", "1.4.2", "chest", -64, 840.0)
FULL = (
    "The Bluetooth adapter of this computer may be full (7 links are open; many hold 5 to 8)."
    " Take a sensor off the list, plug in a second adapter, or let another computer relay."
)


class Asked:
    """Commands that are only written down."""

    def __init__(self, facts: KitFacts = KitFacts()) -> None:  # noqa: B008 - frozen
        self.list: list[tuple[object, ...]] = []
        self.shown = facts

    def facts(self) -> KitFacts:
        return self.shown

    def look_around(self, on: bool) -> None:
        self.list.append(("look around", on))

    def list_everything(self, on: bool) -> None:
        self.list.append(("everything", on))

    def add_athlete(
        self, name: str, band: tuple[int, int] | None, adipose_mm: float | None = None
    ) -> str:
        self.list.append(("add", name, band, adipose_mm))
        return "new"

    def change_athlete(
        self,
        athlete: str,
        name: str,
        band: tuple[int, int] | None,
        adipose_mm: float | None = None,
    ) -> None:
        self.list.append(("change", athlete, name, band, adipose_mm))

    def rename_sensor(self, sensor: str, name: str) -> None:
        self.list.append(("rename", sensor, name))

    def ask_what(self, key: str) -> None:
        self.list.append(("ask", key))

    def wear(
        self, key: str, reading: str, athlete: str, site: str, wheel_m: float | None = None
    ) -> None:
        wheel = () if wheel_m is None else (wheel_m,)
        self.list.append(("wear", key, reading, athlete, site, *wheel))

    def assign(self, sensor: str, athlete: str, site: str, wheel_m: float | None = None) -> None:
        wheel = () if wheel_m is None else (wheel_m,)
        self.list.append(("assign", sensor, athlete, site, *wheel))

    def take_off(self, sensor: str) -> None:
        self.list.append(("take off", sensor))

    def retry(self, sensor: str) -> None:
        self.list.append(("retry", sensor))

    def choose(self, sensor: str, address: str) -> None:
        self.list.append(("choose", sensor, address))

    def add_adapter(self, path: str) -> None:
        self.list.append(("adapter", path))

    def start_baseline(self, athlete: str) -> None:
        self.list.append(("start baseline", athlete))

    def stop_baseline(self, athlete: str) -> None:
        self.list.append(("stop baseline", athlete))


def nearby() -> tuple[Device, ...]:
    strap, oximeter = ("heart-rate strap",), ("oximeter (invented-demo)",)
    return (
        Device("0A:01", "STRAP-17", "0A:00:00:00:01:01", -48, strap, STRAP),
        Device("0A:02", "STRAP-17", "0A:00:00:00:01:02", -71, strap, STRAP),
        Device("0A:03", "OXI-12", "0A:00:00:00:01:03", -82, oximeter, "invented-demo", "Calf 2"),
        Device("0A:04", None, "0A:00:00:00:01:04", -93),
        Device("strap-9", "STRAP-3", reading=STRAP, remembered="STRAP-3"),
    )


def used(number: int, athlete: str, live: Standing = Standing.LIVE) -> tuple[InUse, ...]:
    return (
        InUse(f"s{number}", f"STRAP-{number}", STRAP, athlete, (), live, 84),
        InUse(f"l{number}", f"OXI-{number}", ADAPTERS[0], athlete, ("left thigh",), live, 61),
        InUse(f"r{number}", f"OXI-{number + 40}", ADAPTERS[0], athlete, ("right forearm",), live),
    )


def lanes(count: int) -> tuple[LaneState, ...]:
    return tuple(
        scenes.lane(
            scenes.site("left thigh", 62 + at % 9),
            scenes.site("right forearm", 71 - at % 7),
            name=NAMES[at],
            athlete=f"a{at + 1}",
            bout=None,
            bouts=(),
        )
        for at in range(count)
    )


def snapshot(*there: LaneState) -> SessionSnapshot:
    return SessionSnapshot(scenes.NOW_S, "2026-11-25T10:00:00+00:00", there, (), False)


def kit(count: int) -> tuple[KitFacts, SessionSnapshot]:
    in_use = tuple(one for at in range(count) for one in used(at + 1, f"a{at + 1}"))
    return KitFacts(True, nearby=nearby(), in_use=in_use, adapters=ADAPTERS), snapshot(
        *lanes(count)
    )


def empty() -> KitModel:
    return model(KitFacts(looking=True, adapters=ADAPTERS), snapshot())


def found() -> KitModel:
    return model(KitFacts(looking=True, nearby=nearby(), adapters=ADAPTERS), snapshot())


def one() -> KitModel:
    facts, at = kit(1)
    state = RestingState(Rest.WAITING, 38.0, 22.0, 63.2, 0.4, 0.8, False)
    moving = RestingState(Rest.DRIFTING, 84.0, 36.0, 70.1, 3.4, 1.1, False)
    resting = Resting("a1", True, (("left thigh", state), ("right forearm", moving)))
    return model(replace(facts, resting=(resting,)), at)


def six() -> KitModel:
    """A class in which much goes wrong at once."""
    facts, at = kit(6)
    in_use = list(facts.in_use)
    in_use[3] = replace(in_use[3], standing=Standing.SEARCHING, hint=HELD)
    in_use[7] = replace(in_use[7], standing=Standing.WAITING, hint=f"{FULL} {HELD}")
    in_use[9] = replace(
        in_use[9],
        standing=Standing.ASKING,
        hint="A device with this sensor's name is here, but it may be another one. Hold the right"
        " one close to the computer and choose it, so that nobody gets another person's data.",
        candidates=nearby()[:2],
    )
    in_use[12] = replace(in_use[12], battery_pct=11)
    in_use[1] = replace(in_use[1], about=ABOUT)
    first = at.lanes[4]
    off = tuple(replace(one, trust=Trust.NO_CONTACT, smo2_pct=None) for one in first.state.sites)
    bare = replace(first, state=replace(first.state, sites=off))
    facts = replace(
        facts,
        in_use=tuple(in_use),
        there=(Known("a1", "Ada", (152, 162), 9.0), Known("a2", "Ben", None, 4.5)),
        outcome=(
            "Adapter “mine” can be chosen now.",
            "no contact field: a probe that came off can't be told from a drained muscle",
            "no rate_hz: gaps are judged by the rate seen, which takes a while to learn",
        ),
        wishes=1,
    )
    return model(facts, snapshot(*at.lanes[:4], bare, *at.lanes[5:]))


def many() -> KitModel:
    facts, at = kit(24)
    return model(facts, at)


def off() -> KitModel:
    trouble = (
        "Bluetooth is switched off. Switch it on in the system's settings; livemon goes on by"
        " itself as soon as it can."
    )
    return model(KitFacts(looking=True, trouble=trouble, adapters=ADAPTERS), snapshot())


def long_names() -> KitModel:
    facts, at = kit(1)
    who = replace(at.lanes[0], name="Wilhelmina-Theodora Papadopoulou-Featherstonehaugh")
    in_use = tuple(
        replace(one, name="A very long name of a sensor that never ends, number 12")
        for one in facts.in_use
    )
    devices = tuple(
        replace(one, name="Sensor with a name as long as it may be") for one in nearby()
    )
    return model(replace(facts, in_use=in_use, nearby=devices), snapshot(who))


def model(facts: KitFacts, at: SessionSnapshot) -> KitModel:
    return present_kit(facts, at, ViewSettings())


SCENES = {
    "empty": empty, "found": found, "one": one, "six": six, "many": many, "off": off,
    "long names": long_names,
}  # fmt: skip
