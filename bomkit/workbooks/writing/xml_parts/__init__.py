"""The members of a workbook as text, as ECMA-376, part 1, lays them down (SpreadsheetML)."""
