"""The plates and the print room of a week."""
