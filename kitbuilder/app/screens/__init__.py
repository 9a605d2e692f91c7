"""One file a screen or dialog."""
