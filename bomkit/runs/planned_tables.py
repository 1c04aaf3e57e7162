"""The plan of checked tables, as what the workbooks are made from."""

import hashlib
import json
from dataclasses import asdict

from bomkit import __version__
from bomkit.checks.everything import Inputs
from bomkit.planning.whole_plan import whole_plan
from bomkit.runs.checked_tables import too_much_refused
from bomkit.runs.to_know_first import plan_asides, unsettled_asides
from bomkit.tables.results.finished_plan import Choices
from bomkit.tables.schema import Tables
from bomkit.tables.weeks import week_of
from bomkit.words import common
from bomkit.words.progress import Tell
from bomkit.workbooks.report import Report


def planned(inputs: Inputs, choices: Choices, tell: Tell) -> Report:
    """The plan of checked tables, as what the workbooks are made from."""
    with too_much_refused(inputs):
        whole = whole_plan(inputs.tables, choices, tell)
    settings = inputs.tables["plan"].row(0, named=True)
    unsettled = tuple(unsettled_asides(whole.shops, whole.given))
    return Report(
        run_id=run_id(inputs, choices),
        start=settings["start"],
        title=settings["title"] or common.DEFAULT_TITLE,
        plan=whole.finished,
        asides=(*plan_asides(whole), *unsettled),
        changed=None,
        unsettled=unsettled,
    )


def run_id(inputs: Inputs, choices: Choices) -> str:
    """The name of a run: its first ISO week and a digest over inputs, choices and the version."""
    chosen = asdict(choices)
    if choices.level:
        del chosen["level"]  # as it was before there was a choice
    if not choices.as_moved:
        del chosen["as_moved"]
    del chosen["pick_sheets"]  # the plan and all other workbooks are the same
    return name_from(inputs.tables, __version__, chosen, sorted(inputs.digests.items()))


def name_from(tables: Tables, *told: object) -> str:
    """The plan's first ISO week and a digest over all that makes one run another than the next."""
    digest = hashlib.sha256(json.dumps(told).encode()).hexdigest()
    return f"{week_of(tables['plan']['start'][0])}-{digest[:8]}"
