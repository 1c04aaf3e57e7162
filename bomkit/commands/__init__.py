"""The commands, a module each: arguments in, one call, lines out. They import click alone."""
