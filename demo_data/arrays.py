"""Names for the kinds of array that the generator passes around."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Flags = NDArray[np.bool_]
Codes = NDArray[np.int8]
Words = NDArray[np.object_]
