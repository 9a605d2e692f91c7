"""Checks of the figures and of the findings of one kit."""
