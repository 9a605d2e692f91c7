"""Checks of questions over several kits."""
