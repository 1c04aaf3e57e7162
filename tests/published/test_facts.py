"""Published facts that the planner relies on: ISO weeks and units."""

from datetime import date

import polars as pl
import pytest

from bomkit.planning.workdays import working_days
from bomkit.tables.weeks import iso_weeks
from bomkit.units import UNITS, WHOLE_UNITS, dimension, size


@pytest.mark.parametrize(
    ("day", "week"),
    [
        (date(2025, 12, 29), "2026-W01"),
        (date(2026, 12, 28), "2026-W53"),
        (date(2027, 1, 1), "2026-W53"),
        (date(2027, 1, 3), "2026-W53"),
        (date(2027, 1, 4), "2027-W01"),
        (date(2021, 1, 3), "2020-W53"),
        (date(2022, 12, 31), "2022-W52"),
    ],
)
def test_weeks_follow_iso_8601_by_its_own_year(day: date, week: str) -> None:
    """ISO 8601: week 1 is the week of the year's first Thursday. Published."""
    assert iso_weeks(pl.Series([day])).to_list() == [week]


def test_the_year_2026_has_53_weeks() -> None:
    """ISO 8601. Published."""
    weeks = working_days(date(2025, 12, 29), 53, []).weeks().unique().sort().to_list()
    assert weeks == [f"2026-W{number:02d}" for number in range(1, 54)]


def test_units_carry_their_common_codes() -> None:
    """UN/CEFACT Recommendation 20, Codes for Units of Measure Used in International Trade."""
    assert {unit: code for unit, (_, _, code) in UNITS.items()} == {
        "pc": "H87",
        "m": "MTR",
        "cm": "CMT",
        "mm": "MMT",
        "m2": "MTK",
        "kg": "KGM",
        "g": "GRM",
        "l": "LTR",
        "ml": "MLT",
    }


@pytest.mark.parametrize(
    ("large", "small", "how_many"),
    [("m", "cm", 100), ("m", "mm", 1000), ("cm", "mm", 10), ("kg", "g", 1000), ("l", "ml", 1000)],
)
def test_metric_prefixes_give_the_factors(large: str, small: str, how_many: int) -> None:
    """The SI Brochure, 9th ed., table 7: centi is a hundredth, milli a thousandth."""
    sizes = pl.DataFrame({"unit": [large, small]}).select(
        size=size(pl.col("unit")), dimension=dimension(pl.col("unit"))
    )
    assert sizes["size"][0] / sizes["size"][1] == pytest.approx(how_many, rel=1e-12)
    assert sizes["dimension"].n_unique() == 1


def test_only_pieces_are_whole() -> None:
    assert WHOLE_UNITS == ("pc",)
