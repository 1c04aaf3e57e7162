"""What has gone wrong, or come late, in the week before the plan: each case teaches something."""

from collections.abc import Callable
from datetime import date, timedelta

from sample_parts.catalogue import add_purchases
from sample_parts.model import Allocation, Alternate, OpenOrder, Sample, SparesOrder, Stock


def add_troubles(sample: Sample) -> list[str]:
    """Change the orderly sample by every trouble, and tell each in one sentence."""
    troubles: tuple[Callable[[Sample], str], ...] = (
        _postpone_engine,
        _change_options,
        _quarantine_prepreg,
        _lose_radio,
        _ground_propeller,
        _ground_undercarriage,
        _delay_wing_skin,
        _leave_overdue,
        _let_lots_expire,
        _hold_back,
        _overstock_old_cooler,
        _approve_stand_ins,
    )
    return [trouble(sample) for trouble in troubles]


def _open_orders(sample: Sample, item: str) -> list[OpenOrder]:
    """The open orders of an item by due date."""
    return [order for order in sample.open_orders if order.item == item]


def _postpone_engine(sample: Sample) -> str:
    """Let the engine maker put off one delivery."""
    order = _open_orders(sample, "0031006")[2]
    promised = order.due_date
    order.due_date = date(2027, 2, 24)
    return (
        f"Engine 0031006: order {order.order} was put off from {promised} to {order.due_date}, "
        "so one engine is missing from late January on; a new one takes 60 working days and would "
        "come in March, later than the old one: better to ask for it sooner than to order."
    )


def _change_options(sample: Sample) -> str:
    """Let a customer add the autopilot at short notice."""
    airframe = next(row for row in sample.build_plan if row.serial == "FN-066")
    airframe.options = "AUTOPILOT"
    return (
        "FN-066: the customer added AUTOPILOT last week; servos and controller take 45 working "
        "days with their safety days and are late for it."
    )


def _quarantine_prepreg(sample: Sample) -> str:
    """Take the older freezer lot of prepreg out of use."""
    lots = [row for row in sample.stock if row.item == "MA106"]
    lots[0].status, lots[0].reason = "quarantine", "resin content outside the limits"
    lots[0].location = "quarantine cage"
    return (
        f"Spar cap prepreg MA106: lot {lots[0].lot} ({lots[0].quantity:g} m2) is in quarantine "
        "(resin content outside the limits), so a new roll is wanted sooner than it can come."
    )


def _lose_radio(sample: Sample) -> str:
    """Let the radio of an airframe in final assembly fail."""
    order = next(row for row in sample.open_orders if row.serial == "FN-062")
    sample.allocations.append(Allocation(order.order, "AV701", 1, date(2026, 12, 7)))
    sample.allocations.sort(key=lambda row: row.order)
    return (
        f"FN-062: its VHF radio AV701 failed on the bench and stands among the allocations of "
        f"{order.order}; it takes the radio of a later airframe."
    )


def _ground_propeller(sample: Sample) -> str:
    """Let an aircraft of the fleet wait for a propeller."""
    _add_spares(sample, "SP-2623", "0029310", 1, date(2026, 12, 2), "FN-023", "Eskaholm Air Club")
    return "FN-023 is grounded and needs a propeller 0029310 at once (SP-2623)."


def _ground_undercarriage(sample: Sample) -> str:
    """Let an aircraft of the fleet wait for an undercarriage of its own options."""
    aircraft = [row for row in sample.fleet if row.options == "TUNDRA"][-1]
    owner = f"owner at {aircraft.base}"
    _add_spares(sample, "SP-2624", "UC001", 1, date(2026, 12, 9), aircraft.serial, owner)
    return (
        f"{aircraft.serial} is grounded after a heavy landing and needs a main undercarriage "
        "UC001, with the tundra wheels of its own options, in seven working days (SP-2624)."
    )


def _add_spares(
    sample: Sample, order: str, item: str, quantity: float, need: date, serial: str, who: str
) -> None:
    """Add an urgent spares order."""
    sample.spares_orders.append(SparesOrder(order, item, quantity, need, serial, "grounded", who))


def _delay_wing_skin(sample: Sample) -> str:
    """Let a work order for wing skins slip by two weeks."""
    order = _open_orders(sample, "WG101L")[0]
    order.due_date += timedelta(days=14)
    return (
        f"Wing skin WG101L: work order {order.order} slips to {order.due_date} (its mould is being "
        "repaired), later than the wing needs it."
    )


def _leave_overdue(sample: Sample) -> str:
    """Leave one delivery overdue."""
    order = _open_orders(sample, "PP707")[0]
    order.due_date = date(2026, 11, 24)
    return f"Radiator PP707: {order.order} was due on {order.due_date} and is overdue."


def _let_lots_expire(sample: Sample) -> str:
    """Add an expired lot, and one that can't be used up before it expires."""
    sample.stock += [
        Stock("MA304", 6.5, "cool store, shelf 2", "304-2511A", expires=date(2026, 11, 13)),
        Stock("MA322", 40, "cool store, shelf 4", "322-2506C", expires=date(2026, 12, 11)),
    ]
    return (
        "Adhesive MA304: lot 304-2511A expired on 2026-11-13; top coat MA322: lot 322-2506C "
        "(40 l) expires on 2026-12-11 and most of it will be lost."
    )


def _hold_back(sample: Sample) -> str:
    """Add stock on hold: bolts without papers and a panel in repair for its owner."""
    sample.stock += [
        Stock(
            *("HW112", 60, "hardware bins, row 3", "112-K7"),
            status="hold",
            reason="no certificate",
        ),
        Stock(
            "CK001",
            1,
            "repair bench",
            status="hold",
            serial="FN-049",
            reason="the owner's, here for repair",
        ),
    ]
    return (
        "On hold: 60 wing bolts HW112 without a certificate, and the panel CK001 of FN-049, "
        "which is here for repair."
    )


def _overstock_old_cooler(sample: Sample) -> str:
    """Add old oil coolers beyond what airframes up to FN-069 need."""
    sample.stock.append(Stock("PP731", 9, "engine bay, rack 9"))
    return (
        "From FN-070 on the larger oil cooler PP732 is fitted; nine old ones (PP731) lie in "
        "stock, more than airframes up to FN-069 can use."
    )


def _approve_stand_ins(sample: Sample) -> str:
    """Approve alternates for two items that are late, with free stock of one of them."""
    add_purchases(
        sample,
        """
        UC728 | Brake disc, 160 mm, drilled | WIEL | 58 | 540 | 20 | |
        HW197 | Nut, castellated, M12, stainless | HARR | 1.60 | 17 | 15 | |
        """,
    )
    sample.alternates += [
        Alternate("UC707", "UC728", "as a pair on both wheels only"),
        Alternate("HW148", "HW197", "nose undercarriage only; new split pins"),
    ]
    sample.stock.append(Stock("HW197", 24, "hardware bins, row 3"))
    return (
        "Alternates: the drilled brake disc UC728 is approved for UC707, but none is there; of the "
        "stainless nut HW197, approved for HW148, 24 are free."
    )
