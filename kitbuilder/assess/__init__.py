"""From one kit to figures (value, spread, origin) and findings (what is wrong, why, what to do)."""
