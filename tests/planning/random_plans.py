"""A fixed share of all random tables, planned once in each worker for whoever looks at a plan.

Planning one takes longer than trying a rule on it, so the rules share the plans: each is tried on
all of them. `FOLDERS` is long enough for everything that the rules speak of to happen in a third of
them; `test_random_plans.py` counts it.
"""

from functools import cache

from hypothesis import settings
from hypothesis import strategies as st

from tests.planning.driver import Netted, Plan, netted
from tests.random_tables import random_tables

FOLDERS = range(500, 540)
seeds = st.sampled_from(FOLDERS)
each = settings(max_examples=len(FOLDERS))
some = settings(max_examples=len(FOLDERS) // 2)  # for what plans each folder once more


@cache
def random_plan(seed: int) -> Plan:
    """The plan of the random tables of a seed; not to be changed."""
    return Plan(random_tables(seed))


@cache
def random_netted(seed: int) -> Netted:
    """The same tables by netting alone; not to be changed."""
    return netted(random_tables(seed))
