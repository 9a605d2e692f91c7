"""kitbuilder: make a dive kit fit, from one text file a kit."""

__version__ = "0.1.0"
