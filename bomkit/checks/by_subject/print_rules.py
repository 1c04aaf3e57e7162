"""What printed parts, their materials and the printers must agree in.

Cautions for the engineer in charge, who answers for what a part is printed in; not an approval.
"""

from collections.abc import Mapping

import polars as pl

from bomkit.inputs.text_table import TextTable
from bomkit.problems import Finding
from bomkit.tables.schema import Tables
from bomkit.units import dimension
from bomkit.words.did_you_mean import nearest

Texts = Mapping[str, TextTable]

_ENGINEER = "the engineer in charge decides"


def find_print_problems(texts: Texts, frames: Tables) -> list[Finding]:
    """Every disagreement; none about a table that was not given or could not be read whole."""
    printed = frames["items"].filter(pl.col("source") == "print").unique("item", keep="none")
    findings = []
    if _whole(texts, "materials", "items"):
        parts = printed.join(frames["materials"].drop("row"), on="material", suffix="_of_material")
        findings += _unknown_materials(printed, frames["materials"])
        findings += _heat_problems(parts)
        findings += _tooling_only(parts)
        findings += _unweighed_filaments(frames)
        if texts["structure"].complete:
            findings += _without_filament(parts, frames["structure"])
    if _whole(texts, "prints", "items"):
        findings += _not_printed(frames)
        findings += _not_on_plates(printed, frames["prints"])
    if _whole(texts, "prints", "printers"):
        findings += _unknown_printers(frames)
        findings += _too_long(frames)
    return findings


def _whole(texts: Texts, *names: str) -> bool:
    """Whether tables were given and could be read from end to end."""
    return all(texts[name].given and texts[name].complete for name in names)


def _unknown_materials(printed: pl.DataFrame, materials: pl.DataFrame) -> list[Finding]:
    """Printed parts of a material that stands in no row of materials."""
    known = materials["material"].drop_nulls().sort()
    unknown = printed.filter(
        (pl.col("material") != "") & ~pl.col("material").is_in(known.implode())
    )
    return [
        Finding(
            "items",
            row,
            "material",
            material,
            "is not in materials; "
            + (nearest(material, known) or "add it there, with the heat it stands, or correct it"),
        )
        for row, material in unknown.select("row", "material").iter_rows()
    ]


def _heat_problems(parts: pl.DataFrame) -> list[Finding]:
    """Parts that must stand more heat than their material does, or of which that is not stated."""
    findings = []
    columns = ("row", "material", "structure_class", "heat_c", "heat_limit_c")
    for row, material, structure, heat, limit in parts.select(columns).iter_rows():
        if heat is None and structure != "tooling":
            message = (
                "says nothing of the temperature this printed part must stand; state it, or write "
                "tooling in column structure_class if that is what it is"
            )
            findings.append(Finding("items", row, "heat_c", "", message))
        elif heat is not None and limit is None:
            message = (
                f"nobody says what heat {material} stands; state its heat_limit_c in materials"
            )
            findings.append(Finding("items", row, "heat_c", f"{heat:g}", message))
        elif heat is not None and limit <= heat:
            message = (
                f"must stand {heat:g} degrees C, but {material} only stands {limit:g} degrees C; "
                f"choose a material that stands more; {_ENGINEER}"
            )
            findings.append(Finding("items", row, "heat_c", f"{heat:g}", message))
    return findings


def _tooling_only(parts: pl.DataFrame) -> list[Finding]:
    """Parts other than tooling, of a material that may not be installed."""
    rows = parts.filter((pl.col("installed") == "no") & (pl.col("structure_class") != "tooling"))
    return [
        Finding(
            "items",
            row,
            "material",
            material,
            f"may not be installed (materials says so): {material} is for tooling only; choose "
            f"another material, or write tooling in column structure_class if that is what it is; "
            f"{_ENGINEER}",
        )
        for row, material in rows.select("row", "material").iter_rows()
    ]


def _unweighed_filaments(frames: Tables) -> list[Finding]:
    """Filaments that are not counted by mass."""
    items = frames["items"].select("item", "unit").unique("item", keep="none")
    rows = (
        frames["materials"]
        .join(items, on="item")
        .filter(dimension(pl.col("unit")) != "mass")
        .select("row", "item", "unit")
    )
    message = "is counted in {}; a filament must be counted in kg or g, so that grams add up"
    return [
        Finding("materials", row, "item", item, message.format(unit))
        for row, item, unit in rows.iter_rows()
    ]


def _without_filament(parts: pl.DataFrame, structure: pl.DataFrame) -> list[Finding]:
    """Printed parts that take nothing of their material's filament."""
    lines = structure.filter(pl.col("per") == "each").select(
        item="parent", item_of_material="child"
    )
    rows = parts.join(lines, on=["item", "item_of_material"], how="anti")
    return [
        Finding(
            "items",
            row,
            "material",
            material,
            f"{item} has no line in structure to {filament}, the filament of {material}; "
            "add one with the grams it takes",
        )
        for row, material, item, filament in rows.select(
            "row", "material", "item", "item_of_material"
        ).iter_rows()
    ]


def _not_printed(frames: Tables) -> list[Finding]:
    """Rows of prints whose item comes in another way."""
    sources = frames["items"].select("item", "source").unique("item", keep="none")
    rows = frames["prints"].join(sources, on="item").filter(pl.col("source") != "print")
    return [
        Finding("prints", row, "item", item, f"is not printed: its source in items is {source}")
        for row, item, source in rows.select("row", "item", "source").iter_rows()
    ]


def _not_on_plates(printed: pl.DataFrame, prints: pl.DataFrame) -> list[Finding]:
    """Printed parts of which nobody said how they are printed."""
    rows = printed.join(prints.drop_nulls("item"), on="item", how="anti")
    message = "is printed but not in prints: it comes on no plate and in no printer's hours; add it"
    return [
        Finding("items", row, "item", item, message, "warning")
        for row, item in rows.select("row", "item").iter_rows()
    ]


def _unknown_printers(frames: Tables) -> list[Finding]:
    """Approved printer kinds that nobody has."""
    known = frames["printers"]["kind"].drop_nulls().to_list()
    named = frames["prints"].select("row", pl.col("printers").str.split(" ")).explode("printers")
    unknown = named.filter((pl.col("printers") != "") & ~pl.col("printers").is_in(known))
    return [
        Finding(
            "prints",
            row,
            "printers",
            kind,
            f"is not in printers; {nearest(kind, known) or 'add it there, or correct it'}",
        )
        for row, kind in unknown.iter_rows()
    ]


def _too_long(frames: Tables) -> list[Finding]:
    """Parts that take longer than a plate may take on any printer they are approved for."""
    longest = frames["printers"].select("plate_hours", printers="kind")
    rows = (
        frames["prints"]
        .select("row", "hours", pl.col("printers").str.split(" "))
        .explode("printers")
        .join(longest, on="printers")
        .group_by("row", "hours")
        .agg(pl.col("plate_hours").max(), unlimited=pl.col("plate_hours").is_null().any())
        .filter(~pl.col("unlimited") & (pl.col("hours") > pl.col("plate_hours")))
        .sort("row")
    )
    message = "takes longer than the {:g} hours that a plate may take on its printers"
    return [
        Finding("prints", row, "hours", f"{hours:g}", message.format(most))
        for row, hours, most in rows.select("row", "hours", "plate_hours").iter_rows()
    ]
