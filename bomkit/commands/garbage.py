"""Looking for garbage less often while a command runs."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager

_MANY = 200_000  # new objects between two looks; usually 700


@contextmanager
def seldom_collected() -> Iterator[None]:
    """Within it cyclic garbage is looked for seldom.

    Modules and a run make millions of small objects that last and hardly any cycles: each look goes
    through them in vain, a fifth of the time that the workbooks take.
    """
    usual = gc.get_threshold()
    gc.set_threshold(_MANY, *usual[1:])
    try:
        yield
    finally:
        gc.set_threshold(*usual)
