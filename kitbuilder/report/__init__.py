"""Pages built from an assessment or a plan, and their renderers; the words and digits of screens and reports."""
