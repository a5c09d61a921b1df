"""The version: in a module of its own, so that whoever shows it need not import the face of the program."""

__version__ = "0.1.0"
