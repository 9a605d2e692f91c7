"""One file per widget."""
