"""The airframes' rolled-up empty masses against the limit of the plan."""

from bomkit.planning.structure.mass_cost_hours import RollUp, roll_up
from bomkit.problems import Finding
from bomkit.tables.schema import Tables

_ADVICE = "the weighing of the finished aircraft and its documents rule"


def mass_findings(tables: Tables) -> list[Finding]:
    """A warning for each airframe over mass_limit_kg, and one that names the parts without a mass.

    tables: checked, without errors. Nothing is said where no limit is set.
    """
    limit = tables["plan"]["mass_limit_kg"][0]
    if limit is None:
        return []
    airframes = tables["build_plan"].select("row", "serial", "item").rows()
    rolled = roll_up(tables, "mass", [serial for _, serial, _ in airframes])
    too_heavy = []
    for row, serial, item in airframes:
        mass = rolled.values(serial)[item]
        if mass > limit:
            message = (
                f"its parts add up to {mass:.1f} kg, over the limit of {limit:g} kg in "
                f"mass_limit_kg; look at the masses of its parts and options; {_ADVICE}"
            )
            too_heavy.append(Finding("build_plan", row, "serial", serial, message, "warning"))
    return [*too_heavy, *_massless(rolled, airframes, limit)]


def _massless(rolled: RollUp, airframes: list[tuple[int, str, str]], limit: float) -> list[Finding]:
    """One warning that names every part that has no mass and nothing in it that has one."""
    lacking = sorted(
        {name for _, serial, item in airframes for name in rolled.lacking(item, serial)}
    )
    if not lacking:
        return []
    message = f"held against masses without these parts, which have none: {', '.join(lacking)}"
    return [Finding("plan", 0, "mass_limit_kg", f"{limit:g}", message, "warning")]
