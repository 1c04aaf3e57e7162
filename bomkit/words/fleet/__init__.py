"""Words of the workbooks for spares and the fleet."""
