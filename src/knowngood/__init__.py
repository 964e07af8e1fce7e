"""knowngood: the bench companion that brings a neglected car back, one proven part at a time."""

__version__ = "0.1.0"
