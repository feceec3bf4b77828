"""Lines of a recording that are no events: what was lost, what people call it, its warnings.

    {"t_ns":9000000000,"type":"lost","events":120}
    {"type":"about","title":"Hall, Tuesday","tags":["class"]}

warning_lines.py says how warnings are written down.

They never enter the core and never travel over a network.
"""

from dataclasses import dataclass

from livemon.record.jsonline import brief, dump, free_text, items, load, problem, whole
from livemon.record.warning_lines import TYPE, WarningLine, read_warning, warning_record


@dataclass(frozen=True, slots=True)
class Lost:
    """The journal could not write this many events, up to `t_ns`."""

    t_ns: int
    events: int


@dataclass(frozen=True, slots=True)
class About:
    """Title and tags that somebody gave the recording; the last such line holds."""

    title: str = ""
    tags: tuple[str, ...] = ()


SideLine = Lost | About | WarningLine


def encode_side_line(side: SideLine) -> str:
    """Return `side` as its line, without the newline."""
    if isinstance(side, Lost):
        return dump({"t_ns": side.t_ns, "type": "lost", "events": side.events})
    if isinstance(side, WarningLine):
        return dump(warning_record(side))
    return dump({"type": "about", "title": side.title, "tags": list(side.tags)})


def decode_side_line(line: bytes | str) -> SideLine | None:
    """Return what `encode_side_line` wrote; None for a line of another type.

    Raises:
        RecordingError: the line is damaged.
    """
    record = load(line)
    if record.get("type") == "lost":
        return Lost(whole(record, "t_ns", 0), whole(record, "events", 0))
    if record.get("type") == TYPE:
        return read_warning(record)
    if record.get("type") != "about":
        return None
    tags = tuple(items(record, "tags"))
    if not all(type(tag) is str for tag in tags):
        raise problem("tags", f"expected texts, found {brief(tags)}")
    return About(free_text(record, "title"), tags)
