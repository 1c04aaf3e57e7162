"""Tests of the overview."""
