"""A hose on the body that wears it: the path, the run it must cover, and the slack."""
