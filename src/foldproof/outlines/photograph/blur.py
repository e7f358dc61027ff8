"""How blurred an edge is, from the light along a line across it."""

from __future__ import annotations

import math

import numpy as np

from foldproof.outlines.photograph.light import Light

REACH, PLACES = 6.0, 1201  # the curve of a blurred step, in spreads to either side, written out at so many places
LEAST_SPREAD, SPREADS = 0.4, 36  # in samples: sharper than a picture can be; and how many spreads are tried
ASIDE, ASIDES = 2.5, 21  # how far from its middle, in samples, the step may stand, and how many places are tried
FINER = (0.9, 1.1, 9)  # of the best spread: tried once more, closer together

_AT = np.linspace(-REACH, REACH, PLACES)
_RISEN = np.array([0.5 * (1.0 + math.erf(x / math.sqrt(2.0))) for x in _AT])


def spread_of_step(risen: Light) -> float:
    """The spread, in samples, of the blur of a step that rises from 0 to 1 about the middle of a line (n,).

    The blurred step (the normal distribution's sum) that fits the line best by least squares: noise and unevenness
    far from the step do not draw it out.
    """
    middle = 0.5 * (len(risen) - 1)
    at = np.arange(len(risen)) - middle
    aside = np.linspace(-ASIDE, ASIDE, ASIDES)
    spreads = np.geomspace(LEAST_SPREAD, max(1.0, middle / 2.0), SPREADS)
    best = _best(risen, at, aside, spreads)
    return _best(risen, at, aside, best * np.linspace(*FINER))


def _best(risen: Light, at: Light, aside: Light, spreads: Light) -> float:
    model = np.interp((at - aside[:, None]) / spreads[:, None, None], _AT, _RISEN)
    misfit = ((model - risen) ** 2).sum(axis=2).min(axis=1)
    return float(spreads[int(misfit.argmin())])
