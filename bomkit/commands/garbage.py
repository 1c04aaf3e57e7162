"""Looking for garbage less often from a command on, and not at all when all is done."""

import atexit
import gc

_MANY = 1_000_000  # new objects between two looks; usually 700

atexit.register(gc.freeze)  # what is thrown away as a whole need not be gone through once more


def collected_seldom() -> None:
    """From now on cyclic garbage is looked for seldom.

    Modules and a run make millions of small objects that last and hardly any cycles: each look goes
    through them in vain, a fifth of the time that the workbooks take. A process is one command.
    """
    gc.set_threshold(_MANY, *gc.get_threshold()[1:])
