"""Words on which aircraft carry what."""

FITTED_IN = "Recorded in {count} aircraft: {items}"
FITTED_ROW = "  {serial:10}{item:10}lot {lot:14}no. {part:14}{date!s:12}{whom}"
FITTED_UNSTATED = "–"
FITTED_NO_ITEM = "No record names an item; add --item to see which aircraft have no record of it."
FITTED_UNKNOWN = (
    "▲ Delivered with {item} in their configuration, but without a record that tells: {count}. "
    "Not recorded does not mean not fitted:"
)
FITTED_CAUTION = (
    "A record says what was installed, not what is there now, and that of one piece nothing of "
    "others beside it. For bulletins and recalls the maker's and the authority's documents, each "
    "aircraft's log and licensed staff rule."
)
