"""Cells of a sheet to text, and why a cell can't be trusted to be what a person typed."""

import datetime
import math
import re

LARGEST_SURE = 10**15  # a spreadsheet keeps 15 digits; longer numbers may have lost some
# Shown in these formats a whole number looks as it is stored.
_FAITHFUL_FORMATS = ("General", "GENERAL", "Standard", "0", "#", "@")
_LEADING_ZEROS = re.compile(r"0{2,}")
_RETYPE = "format the column as text and type it again"


def cell_text(value: object, number_format: str = "General") -> str:
    """The value as a person would type it into a text file.

    A whole number in a format of zeros only gets its leading zeros: that is what people see.
    """
    if value is None:
        return ""
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, int | float):
        return _number_text(value, number_format)
    if isinstance(value, datetime.datetime):
        midnight = value.time() == datetime.time()
        return value.date().isoformat() if midnight else value.isoformat(" ")
    return str(value)


def name_advice(value: object, number_format: str) -> str:
    """Why a value that is no text can't be taken as a name; "" if it can be."""
    if isinstance(value, str) or value is None:
        return ""
    if isinstance(value, bool):
        return f"was turned into a truth value by the spreadsheet; {_RETYPE}"
    if not isinstance(value, int | float):
        return f"was turned into a date or time by the spreadsheet; {_RETYPE}"
    if not math.isfinite(value) or value % 1:
        return f"is a number with decimals, but names are text; {_RETYPE}"
    if abs(value) >= LARGEST_SURE:
        return f"is stored as a number and may have lost its last digits; {_RETYPE}"
    if number_format not in _FAITHFUL_FORMATS:
        return (
            f"is stored as a number and shown in the format {number_format}, so it may have lost "
            f"leading zeros or other signs; {_RETYPE}"
        )
    return ""


def _number_text(value: int | float, number_format: str) -> str:
    if isinstance(value, int) and abs(value) >= 2**64:
        return f"{float(value):.17g}" if abs(value) < 10**300 else "inf"
    if not math.isfinite(value) or value % 1 or abs(value) >= LARGEST_SURE:
        return repr(value)
    text = str(int(value))
    if _LEADING_ZEROS.fullmatch(number_format):
        return text.zfill(len(number_format))
    return text
