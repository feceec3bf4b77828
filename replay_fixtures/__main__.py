"""Make the recordings in this folder again: `python -m replay_fixtures`.

Same scripts, same seed, same bytes. Beside each recording stands the SHA-256 of its snapshot lines;
it changes when what is computed changes, and that should be meant. So does `estimates.sha256`.
"""

import hashlib
import sys
from pathlib import Path

from livemon.app.headless import snapshots_of
from livemon.record.head import encode_head
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording
from livemon.synthetic.sessions import TRAININGS
from livemon.synthetic.training import events_of, head_of
from replay_fixtures.estimates import digests

FOLDER = Path(__file__).parent
ESTIMATES = FOLDER / "estimates.sha256"
SEED = 20260302


def recording_text(name: str) -> str:
    """Return the whole text of one recording."""
    training = TRAININGS[name]
    lines = [encode_head(head_of(training)), *map(encode_event, events_of(training, SEED))]
    return "\n".join(lines) + "\n"


def snapshots_sha256(path: Path) -> str:
    """Return the SHA-256 of the snapshot lines of a recording, each with its newline."""
    recording = open_recording(path)
    digest = hashlib.sha256()
    for line in snapshots_of(recording.head, recording.events()):
        digest.update(f"{line}\n".encode())
    return digest.hexdigest()


def main() -> None:
    """Write every recording and its hash."""
    for name in TRAININGS:
        path = FOLDER / f"{name}.jsonl"
        path.write_text(recording_text(name), encoding="utf-8", newline="\n")
        digest = snapshots_sha256(path)
        path.with_suffix(".sha256").write_text(f"{digest}\n", encoding="utf-8", newline="\n")
        sys.stdout.write(f"{digest}  {path.name}, {path.stat().st_size:,} bytes\n")
    lines = "".join(f"{digest}  {name}\n" for name, digest in digests())
    ESTIMATES.write_text(lines, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
