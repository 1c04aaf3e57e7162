"""Forecasts of two plans are compared, and the parts of a change add up to the whole."""

import datetime as dt

import polars as pl
from hypothesis import given
from hypothesis import strategies as st

from bomkit.planning.comparing.moved_forecasts import causes, forecast_days, moved_forecasts

FIRST = dt.date(2026, 12, 1)


def days(**of: int | None) -> pl.DataFrame:
    """Airframes with the day on which they are ready, counted from FIRST; None: never."""
    return pl.DataFrame(
        {
            "demand": list(of),
            "demand_kind": ["airframe"] * len(of),
            "serial": list(of),
            "day": [None if day is None else FIRST + dt.timedelta(day) for day in of.values()],
        },
        schema={"demand": pl.String, "demand_kind": pl.String, "serial": pl.String, "day": pl.Date},
    )


def test_an_airframe_that_is_ready_on_another_day_is_told_with_the_days() -> None:
    found = moved_forecasts(days(A=0, B=5, C=5), days(A=3, B=5, C=1))
    assert found.select("demand", "days", "change").rows() == [
        ("C", -4, "sooner"),
        ("A", 3, "later"),
    ]


def test_what_is_new_or_gone_or_has_no_day_is_told_in_words() -> None:
    found = moved_forecasts(days(A=0, B=5, C=None), days(B=None, C=1, D=2))
    assert dict(found.select("demand", "change").iter_rows()) == {
        "A": "gone",
        "B": "never",
        "C": "found",
        "D": "new",
    }
    assert found["days"].null_count() == len(found)


def test_an_airframe_that_could_be_ready_sooner_than_wanted_counts_on_the_wanted_day() -> None:
    forecast = pl.DataFrame(
        {
            "demand": ["A", "B", "C", "K-1"],
            "demand_kind": ["airframe", "airframe", "airframe", "routine"],
            "serial": ["A", "B", "C", ""],
            "ready_date": [FIRST + dt.timedelta(5)] * 4,
            "earliest_date": [FIRST, FIRST + dt.timedelta(9), None, FIRST],
        }
    )
    promises = pl.DataFrame(
        {"order": ["K-1"], "serial": [""], "promise_date": [FIRST + dt.timedelta(7)]}
    )
    found = forecast_days(forecast, promises)
    assert found.select("demand", "demand_kind", "day").rows() == [
        ("A", "airframe", FIRST + dt.timedelta(5)),
        ("B", "airframe", FIRST + dt.timedelta(9)),
        ("C", "airframe", None),
        ("K-1", "spares order", FIRST + dt.timedelta(7)),
    ]


drawn = st.dictionaries(st.sampled_from("ABC"), st.integers(0, 9), min_size=3).map(
    lambda of: days(**of)
)


@given(st.lists(drawn, min_size=2, max_size=5))
def test_the_parts_of_every_airframe_add_up_to_the_whole(plans: list[pl.DataFrame]) -> None:
    steps = [(str(number), plan) for number, plan in enumerate(plans)]
    parts = causes(steps).group_by("demand").agg(pl.col("days").sum())
    whole = moved_forecasts(plans[0], plans[-1])
    assert {name: sum for name, sum in parts.iter_rows() if sum} == dict(
        whole.select("demand", "days").iter_rows()
    )


def test_what_is_new_and_has_no_day_comes_last() -> None:
    found = moved_forecasts(days(A=0), days(D=None, A=3))
    assert found["demand"].to_list() == ["A", "D"]
