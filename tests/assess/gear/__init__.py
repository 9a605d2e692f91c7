"""Tests of the gear."""
