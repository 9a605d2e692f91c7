"""kitbuilder: make a dive kit fit, from one text file per kit.

Records are frozen. A record that is looked up or computed is a NamedTuple. It is a dataclass where a file fills it
(`kit/`), where something is kept for one object (`eq=False`), or where a tuple would compare wrongly or could not keep
what it works out; the line of the decorator then says so.
"""

__version__ = "0.1.0"
