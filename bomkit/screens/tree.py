"""What `bomkit tree` prints: the indented structure, with what is rolled up."""

from collections.abc import Iterator
from typing import Any

from anytree import Node, RenderTree

from bomkit.planning.structure.outline import RolledTree
from bomkit.words import common
from bomkit.words.problems import findings
from bomkit.words.screens import tree as said


def tree_lines(top: Node, amounts: str = "") -> Iterator[str]:
    """An indented structure, one node a line, with a word where something is not shown.

    amounts: how a node's amount is written, if it has one.
    """
    for prefix, _, node in RenderTree(top):
        amount = amounts and node.amount is not None
        rolled = said.ROLL_NODE.format(amount=amounts.format(amount=node.amount)) if amount else ""
        yield f"{prefix}{_node_words(node)}{rolled}"
        if node.more:
            yield f"{prefix.replace('├──', '│  ').replace('└──', '   ')}    " + (
                said.TREE_MORE.format(count=node.more)
            )


def rolled_lines(rolled: RolledTree, kind: str, serial: str) -> Iterator[str]:
    """An indented structure with what each node adds to one unit of the top, and the sum.

    kind: mass, cost or hours.
    """
    top, lacking, limit_kg = rolled.top, rolled.lacking, rolled.limit_kg
    form = said.ROLL_AMOUNTS[kind]
    yield from tree_lines(top, form)
    yield ""
    whom = said.ROLL_SERIAL.format(serial=serial) if serial else ""
    total = form.format(amount=top.amount)
    yield said.ROLL_TOTALS[kind].format(item=top.name, serial=whom, amount=total)
    if kind != "mass":
        yield said.ROLL_LOTS[rolled.lots]
    yield from rolled.unsettled
    if lacking:
        yield said.ROLL_LACKING[kind].format(items=", ".join(lacking))
    if limit_kg is not None:
        spare = limit_kg - top.amount
        words = findings.MASS_WITHIN if spare >= 0 else findings.MASS_OVER
        yield words.format(limit=limit_kg, spare=abs(spare))
        yield findings.MASS_CAUTION


def _node_words(node: Node) -> str:
    """One node: item, quantity, description, and what makes the line count."""
    row, line = node.row, node.line
    words = [node.name]
    if line is not None and line["replaces"]:
        words.append(said.TREE_REPLACES)
    elif line is not None:
        unit = line["unit"] or (row["unit"] if line["child"] == node.name else "")
        each = said.TREE_PER_ORDER if line["per"] == "order" else ""
        words.append(f"{line['quantity']:.6g} {unit}{each}".strip())
    words.append(row["description"])
    words.append(f"[{common.SOURCES[row['source']]}]")
    if line is not None and not line["replaces"]:
        words += _conditions(line)
    return "  ".join(filter(None, words))


def _conditions(line: dict[str, Any]) -> Iterator[str]:
    """What must hold for a line to count, in words."""
    for name, words in said.TREE_CONDITIONS.items():
        if line[name]:
            yield words.format(value=line[name])
    if line["waste"]:
        yield said.TREE_WASTE.format(share=line["waste"])
