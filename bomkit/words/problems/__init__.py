"""Words on what is wrong or doubtful in orders and plans, in filled workbooks and in their booking.

The sentence on one cell or line stands where it is found: that it can't be read in `inputs/values/`
and `inputs/text/`, that a rule does not hold beside it in `tables/columns_and_rules/`, that tables
do not agree in `checks/`.
"""
