"""Words on workbooks that were filled in and are read back."""

NOT_A_LIST = "is no workbook of a run; it was passed over"
NOTHING_TO_TAKE = "has no list that is filled in; name workbooks that bomkit plan has written"
OTHER_RUN = (
    "is of another run ({found}, not {run}); take it back into the run that it belongs to, or take "
    "it out of the folder"
)
NO_RUN = (
    "has lost the name of its run; fill in a workbook as bomkit plan wrote it, and save it as .xlsx"
)
LISTS_MISSING = (
    "has {found} of its {written} lists left that can be taken back: a sheet or its hidden last "
    "column was deleted; take them from the workbook as bomkit plan wrote it"
)
HEAD_EDITED = (
    "was changed above the hidden keys of its rows; restore that cell from the workbook as bomkit "
    "plan wrote it"
)
HEADING_MISSING = "is not among the headings any more; restore the heading"
HEADING_TWICE = "is a heading twice; restore the headings"
KEY_EDITED = (
    "has a key that was changed; copy the row from the workbook as bomkit plan wrote it, and fill "
    "it in again"
)
NO_KEY = "is filled in on a row that is no line of the list; move it to the line that it belongs to"
KEY_TWICE = "is there twice (also {first}); delete one of the two rows"
SECOND_COPY = (
    "is a second copy of {first}, and one of them is filled in; take the one that does not count "
    "out of the folder"
)
NOT_ITS_ROW = (
    "stands on a row that was '{was}' in the run: cells were changed, or some columns were sorted "
    "without the others; undo that"
)
NO_RESULT = "is a formula without a result; type the value instead"
MERGED = "belongs to merged cells; take the cells apart and fill in each row"
ROWS_DELETED = (
    "lacks {count} of the {written} rows that the run wrote; what is not there counts as not "
    "filled in"
)
WORKBOOK_GONE = (
    "is not where the run wrote it: nothing of it is booked, unless it lies in the folder under "
    "another name; if anything was filled in, put it back and take the week back again"
)
NO_LONGER_THERE = "can't be read: {reason}"
