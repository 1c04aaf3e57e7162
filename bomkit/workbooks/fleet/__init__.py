"""Packing lists, and spares to hold."""
