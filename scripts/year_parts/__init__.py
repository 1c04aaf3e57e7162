"""The parts of a simulated year: the shop, what customers want, the checks after each week."""
