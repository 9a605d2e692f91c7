"""One file per screen or dialog."""
