"""The plan of checked tables, as what the workbooks are made from."""

import hashlib
import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import asdict

from bomkit import __version__
from bomkit.checks.everything import Inputs
from bomkit.planning.netting.flows import TooMuch
from bomkit.planning.whole_plan import whole_plan
from bomkit.planning.workdays import iso_weeks
from bomkit.problems import ProblemsFound
from bomkit.runs.asides import plan_asides
from bomkit.runs.checked import too_much
from bomkit.tables.results.finished_plan import Choices
from bomkit.words import common
from bomkit.workbooks.report import Report

Tell = Callable[[str], None]


def planned(inputs: Inputs, choices: Choices, tell: Tell) -> Report:
    """The plan of checked tables, as what the workbooks are made from."""
    with told_what_is_too_much(inputs):
        whole = whole_plan(inputs.tables, choices, tell)
    settings = inputs.tables["plan"].row(0, named=True)
    return Report(
        run_id=run_id(inputs, choices),
        start=settings["start"],
        title=settings["title"] or common.DEFAULT_TITLE,
        plan=whole.finished,
        asides=tuple(plan_asides(whole)),
        changed=None,
    )


@contextmanager
def told_what_is_too_much(inputs: Inputs) -> Iterator[None]:
    """Says of quantities beyond counting in which input they come from."""
    try:
        yield
    except TooMuch as beyond:
        raise ProblemsFound([too_much(inputs, beyond)]) from beyond


def run_id(inputs: Inputs, choices: Choices) -> str:
    """The name of a run: its first ISO week and a digest over inputs, choices and the version."""
    chosen = asdict(choices)
    if choices.level:
        del chosen["level"]  # as it was before there was a choice
    if not choices.as_moved:
        del chosen["as_moved"]
    del chosen["pick_sheets"]  # the plan and all other workbooks are the same
    told = json.dumps([__version__, chosen, sorted(inputs.digests.items())])
    start = inputs.tables["plan"]["start"]
    return f"{iso_weeks(start)[0]}-{hashlib.sha256(told.encode()).hexdigest()[:8]}"
