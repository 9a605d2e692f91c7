"""Hoses on the body that wears them: its measures, the routes over it, and the lengths they ask for."""
