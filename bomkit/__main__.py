"""`python -m bomkit`."""

from bomkit.cli import main

main()
