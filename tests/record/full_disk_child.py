"""Records while the largest size that a file may have is far too small, then is raised.

Run as: python full_disk_child.py PATH. Prints, as JSON, what the journal said on the way.
"""

import json
import resource
import sys
from pathlib import Path

from recorded_events import A_HEAD, beat

from livemon.record.writer import RETRY_S, Journal

path, number, said = Path(sys.argv[1]), 0, []
_, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
journal, now_s = Journal(path, A_HEAD, now_s=0.0), 0.0
for limit_bytes, events in ((4_096, 100), (4_100, 100), (20_000, 100), (hard, 300)):
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit_bytes, hard))
    now_s += RETRY_S
    for _ in range(events):
        journal.append(beat(number), now_s=now_s)
        number += 1
    said.append([journal.report.state.value, journal.report.problem, path.stat().st_size])
journal.close(now_s=now_s)
sys.stdout.write(json.dumps(said))
