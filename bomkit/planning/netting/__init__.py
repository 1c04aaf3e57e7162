"""Requirements to orders, level by level."""
