"""Sheets say of lots by cost whether they are proven to cost the least."""

from pathlib import Path

import openpyxl
import pytest

from bomkit.runs.week.plan import weekly_run
from bomkit.words.progress import silent
from tests.commands import written

FILES = {
    "items.csv": "item,source,unit,lead_days,lot_rule,order_cost,cost,minimum\n"
    "craft,make,pc,0,,,,\nrib,make,pc,1,least_cost,50,10,MIN\nbolt,buy,pc,1,least_cost,50,10,MIN\n",
    "structure.csv": "parent,child,quantity\ncraft,rib,3\ncraft,bolt,3\n",
    "build_plan.csv": "serial,item,ready_date\nX-1,craft,2026-12-04\nX-2,craft,2026-12-11\n",
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\nlist_weeks = 1\nholding_rate = 0.2\n",
}
PROVEN = "lots by cost: no other lots cost less"
NOT_PROVEN = "lots by cost, not proven least: a minimum"


@pytest.mark.parametrize(("least", "said", "not_said"), [
    ("", PROVEN, NOT_PROVEN), ("20", NOT_PROVEN, PROVEN),
])  # fmt: skip
@pytest.mark.parametrize("book", ["buy", "make"])
def test_a_minimum_that_binds_is_said_beside_the_order(
    tmp_path: Path, least: str, said: str, not_said: str, book: str
) -> None:
    files = {name: words.replace("MIN", least) for name, words in FILES.items()}
    written(tmp_path, files)
    weekly_run(tmp_path, tmp_path / "out", False, silent)
    workbook = openpyxl.load_workbook(tmp_path / "out" / "2026-W49" / f"{book}.xlsx")
    words = " ".join(
        str(cell.value) for sheet in workbook.worksheets for row in sheet for cell in row
    )
    assert said in words and not_said not in words
