"""A hose by itself: what it weighs, what it lets through, and the threads at its ends."""
