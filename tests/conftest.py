"""Settings of all tests, and the plans of the samples that many of them look at.

Random data is drawn the same way each time. Polars and numpy take one thread: the suite fills the
cores with workers, and threads that wait for one another cost more than the tables of most tests.
"""

import gc
import os

# each is read once, when polars or numpy is first imported
os.environ.setdefault("POLARS_MAX_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import pytest
from hypothesis import settings

from bomkit.runs.week.plan import Run, weekly_run
from bomkit.words.progress import silent
from tests.once import once
from tests.samples import FENLARK, TINY

settings.register_profile("the same each time", derandomize=True, deadline=None)
settings.load_profile("the same each time")
gc.set_threshold(50_000, 20, 1_000)  # many small objects are made here, and few that form rings


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Weeks that are simulated one after the other come first.

    Begun last, they would keep one worker busy for long when the others have nothing left to do.
    """
    items.sort(key=lambda item: "year" not in item.path.parts)


@pytest.fixture(scope="session")
def full_run(tmp_path_factory: pytest.TempPathFactory) -> Run:
    """The full-size sample, planned and written once for all workers; not to be changed."""
    return once(
        tmp_path_factory,
        "full-run",
        lambda folder: weekly_run(FENLARK, folder / "out", False, silent),
    )


@pytest.fixture(scope="session")
def tiny_run(tmp_path_factory: pytest.TempPathFactory) -> Run:
    """The tiny sample, planned and written once for all workers; not to be changed."""
    return once(
        tmp_path_factory,
        "tiny-run",
        lambda folder: weekly_run(TINY, folder / "out", False, silent),
    )
