"""The kinds of array that pass through the house: numbers and yes-or-no, one in each draw (and time); and places."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indexes = NDArray[np.intp]
