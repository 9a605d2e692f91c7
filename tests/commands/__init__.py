"""Checks of the commands as somebody types them."""
