"""An assessment or a plan as text, JSON and rows of a table; the words and digits of screens and reports."""
