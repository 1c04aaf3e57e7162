"""All commands in one group. Imports only click at the start."""

import click

from bomkit import __version__
from bomkit.commands.fleet import fitted, kit, spares
from bomkit.commands.one_process import settle_in
from bomkit.commands.questions import rate, tree, why
from bomkit.commands.tables import check, convert, import_list, template
from bomkit.commands.week import compare, plan, take_back


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="bomkit")
def main() -> None:
    """Plan each week what to make, print and buy for a few aircraft and a fleet.

    DATA is a folder of CSV files with plan.toml, or a workbook with a sheet for each table.
    Exit codes: 0 done, 1 problems in the data, 2 wrong usage.
    """
    settle_in()


for command in (
    check.check,
    plan.plan,
    spares.spares,
    tree.tree,
    fitted.fitted,
    kit.kit,
    rate.rate,
    why.why,
    take_back.take_back,
    compare.compare,
    template.template,
    convert.convert,
    import_list.import_list,
):
    main.add_command(command)
