"""Pictures as lines of text: pure functions, no widgets."""
