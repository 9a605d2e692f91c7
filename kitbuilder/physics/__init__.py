"""Formulas only: floats in, floats out, SI, the unit in every name, the source in every docstring.

Nothing here knows of kits, files or screens, and nothing but the standard library is imported. Outside the range a
formula was made for it raises `ValueError` with a sentence; it never extrapolates.
"""
