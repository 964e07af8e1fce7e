"""knowngood: the bench companion that brings a neglected car back, one proven part at a time."""

import os

__version__ = "0.1.0"

# Before numpy is loaded: our matrices are small, and threads that wait for each other take longer than one alone.
os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
