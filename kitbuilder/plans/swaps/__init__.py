"""Lighter items for a journey: what each saves in the bag, what it does to lead, fit and findings; and good sets."""
