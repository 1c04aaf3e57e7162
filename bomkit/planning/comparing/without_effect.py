"""Tables that neither orders nor forecasts depend on: another one needs no plan of its own."""

from bomkit.tables.results.finished_plan import Choices

_NEVER = frozenset(
    {
        "alternates",
        "suppliers",
        "prices",
        "usage",
        "issues",
        "fitted",
        "scrap_log",
        "arrivals_log",
    }
)
_INSPECTIONS = frozenset({"inspection_rules", "inspection_log"})


def without_effect(choices: Choices) -> frozenset[str]:
    """The input tables that change no order and no day of a forecast, whatever stands in them."""
    return _NEVER if choices.inspections else _NEVER | _INSPECTIONS
