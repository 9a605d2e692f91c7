"""Checks of quantities at the edges."""
