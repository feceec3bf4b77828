"""docs/recording-format.md tells the truth: its programme runs, its examples are read."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from recorded_events import A_HEAD, EACH_KIND, HEART_RATE

from livemon.events import Notification
from livemon.monitor.mark_fields import FIELDS
from livemon.record.at_once import write_recording
from livemon.record.head import decode_head
from livemon.record.lines import decode_event, encode_event

DOCUMENT = (Path(__file__).parents[2] / "docs" / "recording-format.md").read_text("utf-8")


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", DOCUMENT, re.DOTALL)


def test_its_ten_lines_of_python_read_a_recording(tmp_path: Path) -> None:
    (programme,) = blocks("python")
    path = tmp_path / "r.jsonl"
    write_recording(path, A_HEAD, [Notification(1_500_000_000, "belt", HEART_RATE, b"\x06\x3c")])
    with path.open("ab") as torn:
        torn.write(b'{"t_ns":17')

    done = subprocess.run(
        [sys.executable, "-c", programme, str(path)], check=True, capture_output=True, text=True
    )
    assert done.stdout == "1.5 belt 60 bpm\n"


def test_its_examples_are_lines_that_livemon_writes() -> None:
    head, events = blocks("json")

    assert decode_head(head.replace("\n", "")).athletes[0].band_bpm == (150, 158)
    for line in events.splitlines():
        event = decode_event(line)
        assert event is not None
        assert encode_event(event) == line


@pytest.mark.parametrize("kind", sorted({json.loads(line)["type"] for _, line in EACH_KIND}))
def test_it_describes_each_type_of_event(kind: str) -> None:
    assert f"\n| `{kind}` |" in DOCUMENT


@pytest.mark.parametrize("kind", FIELDS)
def test_it_describes_each_kind_of_mark(kind: str) -> None:
    (row,) = re.findall(
        rf"\n(\|[^|\n]*`{kind}`[^|\n]*\|[^|\n]*\|)\n", DOCUMENT[DOCUMENT.index("### Marks") :]
    )

    for field in FIELDS[kind]:
        assert f"`{field.key}`" in row
