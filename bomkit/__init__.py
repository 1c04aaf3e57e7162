"""bomkit: weekly make, buy and print lists for a small maker of composite light aircraft."""

__version__ = "0.1.0"
