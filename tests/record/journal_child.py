"""Records numbered events until it is killed, and says on stdout which ones it has recorded.

Run as: python journal_child.py PATH FIRST_NUMBER EVENTS_PER_S (0 is as fast as it goes)
"""

import sys
import time
from pathlib import Path

from recorded_events import A_HEAD, beat

from livemon.record.sync import Syncer
from livemon.record.writer import Journal

path, number, per_s = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
syncer = Syncer()
journal = Journal(path, A_HEAD, now_s=time.perf_counter(), wake_sync=syncer.wake)
syncer.start(journal.sync)
while True:
    journal.append(beat(number), now_s=time.perf_counter())
    sys.stdout.buffer.raw.write(number.to_bytes(4, "big"))
    number += 1
    if per_s:
        time.sleep(1 / per_s)
