"""
Reads a FITS file with astropy and says what it holds, as JSON: for tests/record/fits.test.ts, whose figures it gave.

    python3 -m venv there; there/bin/pip install astropy==8.0.2; there/bin/python tests/record/fitsPeer.py FILE
"""

import json
import sys
import warnings

import astropy
import numpy as np
from astropy.io import fits

warnings.simplefilter("error")
with fits.open(sys.argv[1]) as hdus:
    hdus.verify("exception")
    data, header = hdus[0].data, hdus[0].header
    print(
        json.dumps(
            {
                "astropy": astropy.__version__,
                "shape": list(data.shape),
                "nan": int(np.isnan(data).sum()),
                "sums": [float(np.nansum(plane, dtype=float)) for plane in data],
                "corner": [float(v) for v in data[:, 0, data.shape[2] // 2]],
                "cards": {key: header[key] for key in ("OBJECT", "BUNIT", "CRPIX1", "CDELT1", "CUNIT2", "SCOPE") if key in header},
            }
        )
    )
