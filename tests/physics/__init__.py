"""Physics against the outside world: standards, handbooks, worked examples and reference libraries."""
