"""A redacted copy holds what was measured, and nobody's name."""

from pathlib import Path

from a_session import EVENTS, HEAD, session

from livemon.events import Assigned, Athlete, End, LinkDown, Mark, Notification, Sensor
from livemon.record.library import rename, tag
from livemon.record.reader import open_recording
from livemon.record.redact import Redacted, redact


def test_no_name_note_title_address_or_hour_is_in_the_copy(tmp_path: Path) -> None:
    path = session(tmp_path / "r.jsonl")
    rename(path, "Zoë's Tuesday")
    tag(path, add=["Zoë"])
    with path.open("ab") as damaged:
        damaged.write(b'{"t_ns":7,"type":"mark","mark":"Zo\n')

    made = redact(path, tmp_path / "shared")

    text = made.path.read_text()
    for secret in ("Zo", "Yan", "knee", "AA:BB", "Tuesday", "T10:00", "k3f9", '"a1"', '"belt"'):
        assert secret not in text
    assert made == Redacted(made.path, names=5, texts=1, unreadable=1)
    assert "T000000Z" in made.path.name


def test_what_was_measured_is_all_there(tmp_path: Path) -> None:
    opened = open_recording(redact(session(tmp_path / "r.jsonl"), tmp_path / "shared").path)
    events = list(opened.events())

    assert opened.head.started_utc == "2026-11-25T00:00:00+00:00"
    assert opened.head.athletes == (
        Athlete("athlete-1", "", (150, 158), None, (("left thigh", 31.5),)),
    )
    assert opened.head.sensors == (Sensor("sensor-1", ""), Sensor("sensor-2", "", "plain"))
    assert opened.head.assigned[1] == Assigned(0, "sensor-2", "athlete-1", ("left thigh",))
    assert opened.head.adapters == HEAD.adapters
    assert [event.t_ns for event in events] == [event.t_ns for event in EVENTS]
    assert [e.payload for e in events if isinstance(e, Notification)] == [
        e.payload for e in EVENTS if isinstance(e, Notification)
    ]
    assert [e for e in events if isinstance(e, (LinkDown, End))] == [
        LinkDown(EVENTS[7].t_ns, "sensor-1", ""),
        EVENTS[-1],
    ]


def test_marks_keep_their_numbers_and_what_they_refer_to(tmp_path: Path) -> None:
    odd = Mark(9, "x", "a1", "Zoë says", (("Zoë", 7), ("work", "row"), ("low_bpm", 150)))
    path = session(tmp_path / "r.jsonl", HEAD, (*EVENTS[:-1], odd))
    opened = open_recording(redact(path, tmp_path / "shared").path)
    marks = [event for event in opened.events() if isinstance(event, Mark)]

    assert marks[0].details == (("work", "row"), ("planned_s", 240))
    assert marks[2].details == (("rpe_cr10", 7.0), ("bout", marks[0].mark))
    assert (marks[3].kind, marks[3].details) == ("note", ())
    assert marks[4].replaces == marks[2].mark
    assert (marks[5].kind, marks[5].details) == ("other", (("work", "row"), ("low_bpm", 150)))
