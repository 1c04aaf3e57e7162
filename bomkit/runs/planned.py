"""The plan of checked tables, as what the workbooks are made from."""

import hashlib
import json
from collections.abc import Callable
from dataclasses import asdict

from bomkit import __version__
from bomkit.checks.everything import Inputs
from bomkit.planning.whole_plan import whole_plan
from bomkit.planning.workdays import iso_weeks
from bomkit.runs.asides import plan_asides
from bomkit.runs.checked import too_much_refused
from bomkit.tables.results.finished_plan import Choices
from bomkit.words import common
from bomkit.workbooks.report import Report

Tell = Callable[[str], None]


def planned(inputs: Inputs, choices: Choices, tell: Tell) -> Report:
    """The plan of checked tables, as what the workbooks are made from."""
    with too_much_refused(inputs):
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
