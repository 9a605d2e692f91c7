"""What a kit is: plain frozen records in SI units. No files, no formulas.

Which record stands where follows one rule. A table of a file is an `Entry`, a frozen dataclass whose attributes are
declared by `fields.py`; the top of a file is such a record without a tag. Every kind of item has its record in the
file of its subject, as a kit may hold it. What the diver owns takes over that record and states in `attributes` which
of its keys the other file shares and which it adds; only what no kit has, such as plugs and O-rings, is declared there.
The contents of a whole file are one more dataclass. So no key is declared twice.

These records have no slots, because a record that takes over two others could not have them.
"""
