"""Checks of the words and digits of reports."""
