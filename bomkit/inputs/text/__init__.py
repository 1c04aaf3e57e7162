"""Tables out of text files: CSV and plan.toml."""
