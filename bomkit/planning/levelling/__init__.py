"""Work pulled forward to where there is room."""
