"""From bytes of a picture to light, and to colours as far apart as they look."""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from foldproof.outlines.photograph.decoding import Bytes

Field = NDArray[np.float32]
Light = NDArray[np.floating[Any]]

STRAIGHT, KNEE, SLOPE, LIFT, POWER = 0.04045, 12.92, 1.055, 0.055, 2.4  # sRGB: IEC 61966-2-1
FULL = 255
BURNT = 252  # of 255: here the picture holds no more light


def _curve() -> Field:
    written = np.arange(FULL + 1) / FULL
    light = np.where(written <= STRAIGHT, written / KNEE, ((written + LIFT) / SLOPE) ** POWER)
    return light.astype(np.float32)


LIGHT = _curve()
BETWEEN = (LIGHT[1:] + LIGHT[:-1]) / 2.0


def light_of(pixels: Bytes) -> Field:
    """Linear light 0 to 1 of a picture's bytes, any shape (sRGB, IEC 61966-2-1).

    Halfway up a blurred edge lies on the true edge in light, not in the bytes: blur mixes light.
    """
    return LIGHT[pixels]


def written(light: Light) -> Bytes:
    """A picture's bytes for linear light 0 to 1, any shape: the inverse of ``light_of``, to the nearest."""
    found: Bytes = np.searchsorted(BETWEEN, light).astype(np.uint8)
    return found


def seen_colours(pixels: Bytes) -> Field:
    """Lightness 0 to 100 and the two hues a and b of a picture (h, w, 3): CIE 1976 L*a*b* under D65."""
    return np.asarray(cv2.cvtColor(pixels.astype(np.float32) / FULL, cv2.COLOR_BGR2Lab), np.float32)


def along(light: Light, direction: Light) -> Light:
    """How much of light (..., 3) lies along a direction (..., 3): (...). Written out, as a sum over three is slow."""
    found: Light = (
        light[..., 0] * direction[..., 0] + light[..., 1] * direction[..., 1] + light[..., 2] * direction[..., 2]
    )
    return found
