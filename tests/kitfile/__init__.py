"""Checks of the kit file: reading, editing, saving, and the page about it."""
