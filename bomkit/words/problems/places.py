"""Why nothing is written to a folder or file that somebody named."""

FILES_CHANGED = (
    "holds what somebody filled in, changed or put there since it was written ({files}), so it "
    "stays; take the week back first or move what you want to keep, and name another folder"
)
WITHIN_RUN = "lies in the folder of a run, {run}; name a folder outside it"
WHERE_YOU_ARE = "is the folder you are in, or one around it; go elsewhere, or name another folder"
NOT_WRITTEN = "can't be written: {reason}; make room there, or name a place you may write to"
AMONG_TABLES = (
    "would lie among the tables of {folder}, where it would be taken for one of them; name another "
    "place"
)
