"""What air travel asks of an item: the words for its battery."""

LITHIUM_ION = "lithium ion"
"""The type whose energy decides where it may travel."""
LITHIUM_METAL = "lithium metal"
"""Not rechargeable; such cells are small in dive gear."""
NO_LITHIUM = "no lithium"
"""Alkaline or nickel cells."""
NO_BATTERY = "none"
BATTERY_TYPES = (LITHIUM_ION, LITHIUM_METAL, NO_LITHIUM, NO_BATTERY)
