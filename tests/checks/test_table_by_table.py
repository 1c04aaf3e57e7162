import datetime
from pathlib import Path

import pytest

from tests.inputs.builders import load_files, only_sentence, sentences

STOCK = "item,quantity,location,lot,status,expires,serial\n"
ITEMS = "item,description,source,unit,lead_days,scrap_rate,material,structure_class\n"


def load_items(folder: Path, *rows: str) -> list[str]:
    """What is said about these items beside the good ones."""
    good = "KELTO,,make,pc,,,,\nWING,,make,pc,,,,\n00123,,buy,kg,,,,\n"
    return sentences(load_files(folder, {"items.csv": ITEMS + good + "\n".join(rows) + "\n"}))


def load_quantity(folder: Path, cell: str) -> tuple[list[str], float | None]:
    """What is said about one quantity in stock, and its value."""
    inputs = load_files(folder, {"stock.csv": f"item,quantity\nWING,{cell}\n"})
    return sentences(inputs), inputs.tables["stock"]["quantity"][0]


def load_structure(folder: Path, header: str, *rows: str) -> list[str]:
    """What is said about a structure of these lines only."""
    text = f"parent,child,quantity{header}\n" + "\n".join(rows) + "\n"
    return sentences(load_files(folder, {"structure.csv": text}))


@pytest.mark.parametrize(
    ("cell", "number"),
    [("1e5", 100_000.0), ("5", 5.0), ("0.5", 0.5), (".5", 0.5), ("5.", 5.0), ("+5", 5.0)],
)
def test_numbers_may_be_written_in_these_ways(tmp_path: Path, cell: str, number: float) -> None:
    assert load_quantity(tmp_path, cell) == ([], number)


@pytest.mark.parametrize(
    ("cell", "advice"),
    [
        ('"1,5"', "use a decimal point, or separate columns with semicolons"),
        ('"1,500.00"', "without a separator between the thousands"),
        ("1.500.000", "without a separator between the thousands"),
        ("1 500", "without a separator between the thousands"),
        ("1\u00a0500", "without a separator between the thousands"),
        ("1'500", "without a separator between the thousands"),
        ("8 %", "instead of a percentage write 0.08"),
        ("8%", "instead of a percentage write 0.08"),
        ("nan", "must be a number"),
        ("inf", "must be a number"),
        ("-inf", "must be a number"),
        ("1e999", "must be a number"),
        ("5 pc", "without a unit"),
        ("1_000", "must be a number"),
        ("0x10", "must be a number"),
        ("١٢", "must be a number"),
        ("=2*3", "type the value instead of the formula"),
    ],
)
def test_whatever_else_is_no_number_gets_advice(tmp_path: Path, cell: str, advice: str) -> None:
    said, number = load_quantity(tmp_path, cell)
    assert len(said) == 1
    assert said[0].startswith("error: stock.csv line 2, column quantity: ")
    assert advice in said[0]
    assert number is None


@pytest.mark.parametrize(
    ("cell", "value"), [("5.0", 5), ("5", 5), ("1e1", 10), ("0", 0), ("2000", 2000)]
)
def test_whole_numbers_may_have_a_decimal_zero(tmp_path: Path, cell: str, value: int) -> None:
    text = ITEMS + f"KELTO,,make,pc,{cell},,,\nWING,,make,pc,,,,\n00123,,buy,kg,,,,\n"
    inputs = load_files(tmp_path, {"items.csv": text})
    assert inputs.problems == []
    assert inputs.tables["items"]["lead_days"][0] == value


@pytest.mark.parametrize(
    ("cell", "advice"),
    [
        ("1.5", "must be a whole number"),
        ("-1", "must be at least 0"),
        ("2001", "must be at most 2000"),
        ("1e300", "must be at most 2000"),
    ],
)
def test_whole_numbers_keep_their_bounds(tmp_path: Path, cell: str, advice: str) -> None:
    said = load_items(tmp_path, f"BAD,,make,pc,{cell},,,")
    assert said == [f"error: items.csv line 5, column lead_days: '{cell}' {advice}"]


@pytest.mark.parametrize("rate", ["1", "1.5", "-0.1", "8"])
def test_a_rate_is_less_than_one(tmp_path: Path, rate: str) -> None:
    (said,) = load_items(tmp_path, f"BAD,,make,pc,,{rate},,")
    assert f"column scrap_rate: '{rate}' must be at least 0 and less than 1; 8 % is 0.08" in said


@pytest.mark.parametrize("rate", ["0", "0.999", ""])
def test_rates_from_zero_on_are_accepted(tmp_path: Path, rate: str) -> None:
    assert load_items(tmp_path, f"FINE,,make,pc,,{rate},,") == []


def test_a_quantity_in_the_structure_must_be_more_than_zero(tmp_path: Path) -> None:
    (said,) = load_structure(tmp_path, "", "KELTO,WING,0")
    assert "structure.csv line 2, column quantity: '0' must be more than 0" in said


@pytest.mark.parametrize(
    "cell", ["2026-11-30", "2026-11-30 00:00:00", "2026-11-30T00:00:00", "30.11.2026"]
)
def test_dates_may_be_written_in_these_ways(tmp_path: Path, cell: str) -> None:
    text = f"serial,item,ready_date\nKL-061,KELTO,{cell}\n"
    inputs = load_files(tmp_path, {"build_plan.csv": text})
    assert inputs.problems == []
    assert inputs.tables["build_plan"]["ready_date"][0] == datetime.date(2026, 11, 30)


def test_a_date_with_dots_has_the_day_first(tmp_path: Path) -> None:
    text = "serial,item,ready_date\nKL-061,KELTO,1.2.2027\n"
    inputs = load_files(tmp_path, {"build_plan.csv": text})
    assert inputs.tables["build_plan"]["ready_date"][0] == datetime.date(2027, 2, 1)


@pytest.mark.parametrize(
    ("cell", "advice"),
    [
        ("30/11/2026", "with slashes nobody can tell the day from the month"),
        ("11/30/26", "with slashes nobody can tell"),
        ("2026-11-30 14:30:00", "without a time of day"),
        ("2026-02-30", "a day that the calendar has"),
        ("31.11.2026", "a day that the calendar has"),
        ("2026-1-5", "must be a date such as 2026-11-30"),
        ("30.11.26", "must be a date such as 2026-11-30"),
        ("soon", "must be a date such as 2026-11-30"),
        ("46356", "in a spreadsheet give the cell a date format"),
        ("1949-12-31", "must lie between 1950 and 2200"),
        ("01.01.2201", "must lie between 1950 and 2200"),
        ("0000-01-01", "must lie between 1950 and 2200"),
        ("9999-12-31", "must lie between 1950 and 2200"),
    ],
)
def test_other_dates_are_refused_with_advice(tmp_path: Path, cell: str, advice: str) -> None:
    text = f"serial,item,ready_date\nKL-061,KELTO,{cell}\n"
    said = only_sentence(load_files(tmp_path, {"build_plan.csv": text}))
    assert f"build_plan.csv line 2, column ready_date: '{cell}' " in said
    assert advice in said


@pytest.mark.parametrize(
    "cell",
    [
        "#REF!",
        "#N/A",
        "#VALUE!",
        "#DIV/0!",
        "#NAME?",
        "#NULL!",
        "#NUM!",
        "#BEZUG!",
        "#WERT!",
        "#NV",
    ],
)
@pytest.mark.parametrize("column", ["item", "quantity", "location", "status", "expires"])
def test_spreadsheet_errors_are_refused_in_every_column(
    tmp_path: Path, column: str, cell: str
) -> None:
    row = {"item": "WING", "quantity": "1", "location": "", "status": "", "expires": ""}
    row[column] = cell
    text = ",".join(row) + "\n" + ",".join(row.values()) + "\n"
    said = only_sentence(load_files(tmp_path, {"stock.csv": text}))
    assert f"column {column}: '{cell}' is an error of the spreadsheet" in said


@pytest.mark.parametrize("column", ["location", "lot"])
def test_control_characters_are_refused(tmp_path: Path, column: str) -> None:
    text = f"item,quantity,{column}\nWING,1,A\x07B\n"
    said = only_sentence(load_files(tmp_path, {"stock.csv": text}))
    assert "holds control characters that do not show" in said


def test_tabs_and_line_breaks_are_fine_in_text_but_not_in_a_name(tmp_path: Path) -> None:
    text = 'item,quantity,location,lot\nWING,1,"A\tB\nC",L1\nWING,1,,"L\n2"\n'
    said = only_sentence(load_files(tmp_path, {"stock.csv": text}))
    assert "stock.csv line 4, column lot: 'L 2' must stand on one line" in said


@pytest.mark.parametrize(
    ("mark", "code"),
    [
        ("\u200b", "U+200B, zero width space"),
        ("\u00a0", "U+00A0, no-break space"),
        ("\uff11", "U+FF11, fullwidth digit one"),
        ("\u202f", "U+202F, narrow no-break space"),
        ("\u0661", "U+0661, arabic-indic digit one"),
        ("\u00ad", "U+00AD, soft hyphen"),
    ],
)
def test_characters_that_mislead_the_eye_are_refused_in_names(
    tmp_path: Path, mark: str, code: str
) -> None:
    (said,) = load_items(tmp_path, f"SP{mark}AR,,make,pc,,,,")
    assert code in said
    assert "items.csv line 5, column item" in said


def test_such_characters_are_fine_in_text(tmp_path: Path) -> None:
    assert load_items(tmp_path, "SPAR,left\u00a0one １,make,pc,,,,") == []


def test_a_deceptive_name_is_one_problem_though_others_refer_to_it(tmp_path: Path) -> None:
    text = ITEMS + "KELTO,,make,pc,,,,\nWI\u200bNG,,make,pc,,,,\n00123,,buy,kg,,,,\n"
    said = only_sentence(load_files(tmp_path, {"items.csv": text}))
    assert "items.csv line 3, column item" in said


def test_an_empty_required_cell_is_refused(tmp_path: Path) -> None:
    said = load_items(tmp_path, ",spar,make,pc,,,,", "SPAR,,,pc,,,,")
    assert said == [
        "error: items.csv line 5, column item: must not be empty",
        "error: items.csv line 6, column source: must not be empty",
    ]


def test_a_choice_off_the_list_shows_the_list_and_the_nearest(tmp_path: Path) -> None:
    (said,) = load_items(tmp_path, "SPAR,,Make,pc,,,,")
    assert said.endswith("'Make' must be one of make, print, buy, phantom, kit; did you mean make?")


def test_a_repeated_key_names_the_first_row(tmp_path: Path) -> None:
    said = load_items(tmp_path, "WING,,buy,pc,,,,", "WING,,buy,pc,x,,,")
    assert said[0] == (
        "error: items.csv line 5, column item: 'WING' stands in line 3 already; each item only once"
    )
    assert "items.csv line 6, column item: 'WING' stands in line 3 already" in said[1]
    assert "items.csv line 6, column lead_days" in said[2]
    assert len(said) == 3


def test_a_repeated_key_of_several_columns_is_compared_by_value(tmp_path: Path) -> None:
    rows = "PO-1,WING,1,2026-12-01\nPO-1,WING,2,01.12.2026\nPO-1,WING,2,2026-12-02\n"
    inputs = load_files(tmp_path, {"open_orders.csv": "order,item,quantity,due_date\n" + rows})
    assert (
        "open_orders.csv line 3, column order: 'PO-1' stands in line 2 already with the same "
        "item, serial and due_date; add the quantities up"
    ) in only_sentence(inputs)


def test_a_repeated_pair_without_a_quantity_is_to_go(tmp_path: Path) -> None:
    rows = "item,alternate,note\nWING,00123,one\nWING,00123,other\n"
    inputs = load_files(tmp_path, {"alternates.csv": rows})
    assert (
        "alternates.csv line 3, column item: 'WING' stands in line 2 already with the same "
        "alternate; remove one of them"
    ) in only_sentence(inputs)


def test_identical_rows_without_a_key_are_a_warning(tmp_path: Path) -> None:
    said = load_structure(tmp_path, "", "KELTO,WING,2", "WING,00123,1", "KELTO,WING,2.0")
    assert said == ["warning: structure.csv line 4: the same row stands in line 2; both count"]


def test_the_rules_of_a_table_are_checked(tmp_path: Path) -> None:
    said = load_items(
        tmp_path, "CLIP,,print,pc,,,,", "RIB,,print,pc,,,PA12,primary", "PH,,phantom,pc,3,,,"
    )
    assert "items.csv line 5, column material: a printed item must say" in said[0]
    assert "items.csv line 6, column structure_class: 'primary' printed parts are not" in said[1]
    assert said[2].startswith("warning: items.csv line 7, column source: 'phantom' a phantom has")
    assert len(said) == 3


def test_an_item_in_itself_and_dates_turned_round_are_refused(tmp_path: Path) -> None:
    header = ",from_date,to_date"
    said = load_structure(
        tmp_path,
        header,
        "KELTO,KELTO,1,,",
        "KELTO,WING,1,2027-02-01,2027-01-01",
        "KELTO,WING,1,,2027-01-01",
    )
    assert "line 2, column child: 'KELTO' an item can't go into itself" in said[0]
    assert "line 3, column to_date: '2027-01-01' to_date must not lie before" in said[1]
    assert len(said) == 2


def test_the_problems_of_all_tables_come_at_once_in_the_order_of_tables(tmp_path: Path) -> None:
    files = {
        "stock.csv": "item,quantity\nWING,x\nWNG,1\n",
        "items.csv": ITEMS + "KELTO,,make,pc,y,,,\nWING,,mke,pc,,,,\n00123,,buy,kg,,,,\n",
        "build_plan.csv": "serial,item,ready_date\nKL-061,KELTO,soon\n",
        "calendar.csv": "date\n2026-12-24\n2026-12-24\n",
        "plan.toml": "start = 2026-11-30\nhorizon_weeks = 0\n",
    }
    places = [(p.file, p.place) for p in load_files(tmp_path, files).problems]
    assert places == [
        ("plan.toml", "line 2"),
        ("items.csv", "line 2"),
        ("items.csv", "line 3"),
        ("build_plan.csv", "line 2"),
        ("stock.csv", "line 2"),
        ("stock.csv", "line 3"),
        ("calendar.csv", "line 3"),
    ]


def test_only_saturdays_and_sundays_can_be_open_besides_working_days(tmp_path: Path) -> None:
    said = sentences(
        load_files(
            tmp_path,
            {
                "calendar.csv": "date,reason,open\n"
                "2026-12-04,shift,yes\n"  # a Friday
                "2026-12-05,shift,yes\n"
                "2026-12-06,shift,yes\n"
                "2026-12-07,shift,yes\n"  # a Monday
                "2026-12-12,fair,no\n"
                "2026-12-24,holiday,\n"
                "2026-12-25,holiday,perhaps\n"
            },
        )
    )
    assert [sentence.split(":")[1] for sentence in said] == [
        " calendar.csv line 2, column open",
        " calendar.csv line 5, column open",
        " calendar.csv line 8, column open",
    ]
    assert "'yes' a day from Monday to Friday is a working day anyway" in said[0]


def test_a_day_that_is_both_open_and_closed_is_refused(tmp_path: Path) -> None:
    rows = "date,open\n2026-12-05,yes\n2026-12-05,no\n"
    said = sentences(load_files(tmp_path, {"calendar.csv": rows}))
    assert len(said) == 1
    assert "calendar.csv line 3, column date" in said[0]
