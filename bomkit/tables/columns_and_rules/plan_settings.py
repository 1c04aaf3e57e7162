"""The plan's own settings, declared once."""

from bomkit.tables.schema import Column, Table
from bomkit.tables.shared_columns import LONGEST_DAYS

MOST_WEEKS = 156  # three years; a record by week has a column for each
MOST_LIST_WEEKS = 26  # each has four workbooks of its own

PLAN = Table(
    "plan",
    "The plan's own settings: plan.toml in a folder, the sheet 'plan' with one row in a workbook.",
    (
        Column("start", "date", "First day of the plan, as 2026-11-30.", required=True),
        Column(
            "horizon_weeks",
            "whole",
            "How many calendar weeks are planned.",
            required=True,
            at_least=1,
            at_most=MOST_WEEKS,
        ),
        Column(
            "list_weeks",
            "whole",
            "For how many weeks workbooks are written.",
            default=4,
            at_least=1,
            at_most=MOST_LIST_WEEKS,
            formerly="release_weeks",
        ),
        Column("title", "text", "What stands on every sheet, such as the maker's name."),
        Column(
            "mass_limit_kg",
            "number",
            "Greatest empty mass of an airframe; rolled-up masses are held against it.",
            above=0,
        ),
        Column(
            "pull_ahead_weeks",
            "whole",
            "By how many weeks work may be pulled forward where a week holds too much; 0: by none.",
            default=0,
            at_least=0,
            at_most=MOST_WEEKS,
        ),
        Column(
            "move_days",
            "whole",
            "An open order may come later only if that is more than so many working days.",
            default=5,
            at_least=0,
            at_most=LONGEST_DAYS,
        ),
        Column(
            "move_share",
            "rate",
            "Less of an open order is asked for only if that is more than this share of it.",
            default=0.1,
        ),
        Column(
            "holding_rate",
            "rate",
            "What holding stock costs a year, as a share of its value; for lots by cost.",
        ),
    ),
    required=True,
    one_row=True,
)
