"""Keep the pauses short in which Python looks for garbage.

A full collection visits every object there is, and nothing else runs meanwhile: a reading that
arrives then is stamped late. Most objects are the modules of Qt, numpy and our own, which are never
garbage; to visit them took 50 to 70 ms, without them it is under 10 (`benchmarks/loop.py`).
"""

import gc


def pass_over_what_is_there() -> None:
    """Have collections pass over all that is there by now.

    What is dead and not collected yet stays too; after the start that is next to nothing, and to
    collect it first would hold up the first picture.
    """
    gc.freeze()


def visit_all_again() -> None:
    """Have collections visit everything again."""
    gc.unfreeze()
