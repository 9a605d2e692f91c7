"""Pint's own unit table, against which formulas and units are checked."""

from functools import cache

import pint


@cache
def pint_registry() -> pint.UnitRegistry:
    """Read the table when the first test asks: every worker reads every test file, few run these tests."""
    return pint.UnitRegistry()
