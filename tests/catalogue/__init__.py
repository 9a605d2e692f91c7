"""Checks of the trade data and of its loader."""
