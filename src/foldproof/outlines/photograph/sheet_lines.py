"""Quadrilaterals in a picture that may be the sheet: straight edges found by voting, put together in fours."""

from __future__ import annotations

import math
from itertools import combinations

import cv2
import numpy as np
from numpy.typing import NDArray

from foldproof.geometry.plane import Array
from foldproof.outlines.photograph.light import Field, along

ANGLES = 180  # bins of a half turn
STEP_PX = 2.0  # width of a bin of distance
LINES = 28  # how many edges are put together in fours
APART_BINS = (5, 9)  # two edges closer than this in angle and distance are one
EDGE_SHARE = 0.10  # the strongest tenth of all places votes
LEAST_STEP = 1.2  # in L*a*b* per pixel: fainter places are noise
CAP = 5.0  # a place that is so many times stronger than the faintest counts no more than this
OPPOSITE_RAD = math.radians(40.0)  # opposite edges of a sheet that is seen askew
CROSSING_RAD = math.radians(45.0)  # neighbouring edges cross at this at least
LEAST_AREA = 0.04  # of the picture
OUTSIDE = 0.04  # how far out of the picture a corner may be thought, as a share of its long side
PLACES = 40  # tried along each edge
BORDER_PX = 2.0  # a side so near to the picture's border is on it
SMOOTH_PX = 1.2  # the picture is evened over this before its slopes are taken
SOBEL = 0.125  # makes the library's slopes slopes for each pixel
SPREAD_BINS = (1.0, 1.5)  # votes are evened over this, in angle and distance
BESIDE_BINS = (3, 41)  # a line's votes are compared with those so near it, in angle and distance
WRAP_BINS = 8  # of the table of votes that are put on again at either end
LEAST_APART = 0.12  # of the picture's short side: opposite edges of a sheet
PARALLEL = 1e-6  # sine below which two lines do not meet in any picture
BOWED_PX = (-4, -2, 0, 2, 4)  # the lens bows edges by some pixels
SAME_WAY = 0.9  # cosine between an edge and the slope of the picture across it
AREA_COUNTS = 0.5  # of the root of its share of the picture, against the support of its sides
SAME_SHARE = 0.01  # of the long side: quadrilaterals whose corners are so near are one
LOOKED_THROUGH = 400
MOST = 14  # quadrilaterals looked at closely


def slopes(colours: Field) -> tuple[Field, Field, Field]:
    """How strongly a picture's colours (h, w, 3) change at each place, and the unit direction (x, y) they change in.

    The three colours are taken together: the largest eigenvalue of the summed products of their slopes.
    """
    smooth = cv2.GaussianBlur(colours, (0, 0), SMOOTH_PX)
    across = np.asarray(cv2.Sobel(smooth, cv2.CV_32F, 1, 0, scale=SOBEL), np.float32)
    down = np.asarray(cv2.Sobel(smooth, cv2.CV_32F, 0, 1, scale=SOBEL), np.float32)
    xx, yy, xy = along(across, across), along(down, down), along(across, down)
    angle = 0.5 * np.arctan2(2.0 * xy, xx - yy)
    strength = np.sqrt(0.5 * (xx + yy + np.hypot(xx - yy, 2.0 * xy)))
    return strength, np.cos(angle), np.sin(angle)


def quadrilaterals(colours: Field, with_border: bool) -> Array:
    """Corners (m, 4, 2) in pixels of quadrilaterals whose sides lie on edges of the picture, the likeliest first.

    ``with_border``: the picture's own border counts as an edge, to find sheets that run out of it.
    """
    strength, x, y = slopes(colours)
    height, width = strength.shape
    lines = _lines(strength, x, y)
    if with_border:
        lines = np.concatenate((lines, _borders(width, height)))
    quads = _in_fours(lines, width, height)
    if not len(quads):
        return np.empty((0, 4, 2))
    support = _support(quads, strength, x, y)
    if with_border:
        support = np.maximum(support, _on_border(quads, width, height))
    area = np.abs(_areas(quads)) / (width * height)
    worth = support.min(axis=1) + support.mean(axis=1) + AREA_COUNTS * np.sqrt(area)
    best = np.argsort(-worth, kind="stable")
    found: Array = quads[_distinct(quads, best, SAME_SHARE * max(width, height))]
    return found


def _lines(strength: Field, x: Field, y: Field) -> Array:
    """The strongest straight edges (k, 3): unit normal and distance from the picture's middle."""
    height, width = strength.shape
    faintest = max(LEAST_STEP, float(np.quantile(strength[::3, ::3], 1.0 - EDGE_SHARE)))
    rows, columns = np.nonzero(strength > faintest)
    vote = np.minimum(strength[rows, columns], CAP * faintest)
    angle = np.arctan2(y[rows, columns], x[rows, columns]) % math.pi
    bins = np.floor(angle * (ANGLES / math.pi)).astype(np.int64) % ANGLES
    middle = (bins + 0.5) * (math.pi / ANGLES)
    away = (columns + 0.5 - width / 2.0) * np.cos(middle) + (rows + 0.5 - height / 2.0) * np.sin(middle)
    half = math.ceil(math.hypot(width, height) / 2.0 / STEP_PX) + 1
    ranks = np.floor(away / STEP_PX).astype(np.int64) + half
    votes = np.bincount(bins * (2 * half) + ranks, weights=vote, minlength=ANGLES * 2 * half)
    return _peaks(votes.reshape(ANGLES, 2 * half).astype(np.float32), half)


def _peaks(votes: Field, half: int) -> Array:
    """The highest places of a table of votes; past half a turn the table goes on with distances reversed."""
    wrap = WRAP_BINS
    table = np.concatenate((votes[-wrap:, ::-1], votes, votes[:wrap, ::-1]))
    table = np.asarray(cv2.GaussianBlur(table, (0, 0), SPREAD_BINS[1], sigmaY=SPREAD_BINS[0]), np.float32)
    # An edge stands out from the lines beside it; the grain of wood gives many votes everywhere.
    table = table - np.asarray(cv2.blur(table, BESIDE_BINS[::-1]), np.float32)
    found = []
    for _ in range(LINES):
        inner = table[wrap:-wrap]
        angle, rank = np.unravel_index(int(np.argmax(inner)), inner.shape)
        if inner[angle, rank] <= 0.0:
            break
        turn = (angle + 0.5) * math.pi / ANGLES
        found.append([math.cos(turn), math.sin(turn), (rank - half + 0.5) * STEP_PX])
        _clear(table, int(angle) + wrap, int(rank))
        if angle < APART_BINS[0]:
            _clear(table, int(angle) + wrap + ANGLES, 2 * half - 1 - int(rank))
        if angle >= ANGLES - APART_BINS[0]:
            _clear(table, int(angle) + wrap - ANGLES, 2 * half - 1 - int(rank))
    return np.array(found).reshape(-1, 3)


def _clear(table: Field, row: int, column: int) -> None:
    up, over = APART_BINS
    table[max(0, row - up) : row + up + 1, max(0, column - over) : column + over + 1] = 0.0


def _borders(width: int, height: int) -> Array:
    return np.array([[1, 0, width / 2], [1, 0, -width / 2], [0, 1, height / 2], [0, 1, -height / 2]], np.float64)


def _in_fours(lines: Array, width: int, height: int) -> Array:
    """Corners (m, 4, 2), going round, of the quadrilaterals between two pairs of nearly parallel lines."""
    turned = np.arctan2(lines[:, 1], lines[:, 0])
    least = LEAST_APART * min(width, height)
    pairs = []
    for a, b in combinations(range(len(lines)), 2):
        between = abs((turned[a] - turned[b] + math.pi / 2) % math.pi - math.pi / 2)
        sign = 1.0 if float(lines[a, :2] @ lines[b, :2]) > 0 else -1.0
        if between < OPPOSITE_RAD and abs(lines[a, 2] - sign * lines[b, 2]) > least:
            pairs.append((a, b))
    if len(pairs) < 2:
        return np.empty((0, 4, 2))
    pair = np.array(pairs)
    one, other = np.triu_indices(len(pair), 1)
    a, c = pair[one].T
    b, d = pair[other].T
    crossing = np.abs((turned[a] - turned[b] + math.pi / 2) % math.pi - math.pi / 2)
    distinct = (a != b) & (a != d) & (c != b) & (c != d) & (crossing > CROSSING_RAD)
    a, b, c, d = a[distinct], b[distinct], c[distinct], d[distinct]
    corners = np.stack([_meet(lines, p, q) for p, q in ((a, b), (b, c), (c, d), (d, a))], axis=1)
    area = _areas(corners)
    flip = area < 0
    corners[flip] = corners[flip][:, ::-1]
    edges = np.roll(corners, -1, axis=1) - corners
    after = np.roll(edges, -1, axis=1)
    bulging = np.all(edges[..., 0] * after[..., 1] - edges[..., 1] * after[..., 0] > 0, axis=1)
    room = np.array([width, height]) / 2.0 + OUTSIDE * max(width, height)
    inside = np.all(np.abs(corners) < room, axis=(1, 2))
    large = np.abs(area) > LEAST_AREA * width * height
    found: Array = corners[bulging & inside & large] + np.array([width, height]) / 2.0
    return found


def _meet(lines: Array, p: NDArray[np.int64], q: NDArray[np.int64]) -> Array:
    """Where lines p and q cross (m, 2)."""
    n, m = lines[p], lines[q]
    twist = n[:, 0] * m[:, 1] - n[:, 1] * m[:, 0]
    twist = np.where(np.abs(twist) < PARALLEL, PARALLEL, twist)  # parallel ones meet far outside and are left out
    x = (n[:, 2] * m[:, 1] - m[:, 2] * n[:, 1]) / twist
    y = (n[:, 0] * m[:, 2] - m[:, 0] * n[:, 2]) / twist
    return np.column_stack((x, y))


def _areas(quads: Array) -> Array:
    after = np.roll(quads, -1, axis=1)
    found: Array = 0.5 * (quads[..., 0] * after[..., 1] - after[..., 0] * quads[..., 1]).sum(axis=1)
    return found


def _support(quads: Array, strength: Field, x: Field, y: Field) -> Array:
    """Along which share of each side (m, 4) the picture has an edge that runs the side's way."""
    height, width = strength.shape
    faintest = max(LEAST_STEP, 0.5 * float(np.quantile(strength[::3, ::3], 1.0 - EDGE_SHARE)))
    edges = (np.roll(quads, -1, axis=1) - quads)[:, :, None, :]
    share = ((np.arange(PLACES) + 0.5) / PLACES)[:, None]
    at = quads[:, :, None, :] + share * edges
    normal = np.stack((-edges[..., 1], edges[..., 0]), axis=-1) / np.linalg.norm(edges, axis=-1, keepdims=True)
    there = np.zeros(at.shape[:3], bool)
    for off in BOWED_PX:
        place = np.floor(at + off * normal).astype(np.int64)
        column, row = np.clip(place[..., 0], 0, width - 1), np.clip(place[..., 1], 0, height - 1)
        same_way = np.abs(x[row, column] * normal[..., 0] + y[row, column] * normal[..., 1])
        there |= (strength[row, column] > faintest) & (same_way > SAME_WAY)
    shares: Array = there.mean(axis=2)
    return shares


def _on_border(quads: Array, width: int, height: int) -> Array:
    """1 for each side (m, 4) that lies on the picture's border, else 0."""
    after = np.roll(quads, -1, axis=1)
    size = [width, height]
    low = np.maximum(np.abs(quads), np.abs(after)).min(axis=2) < BORDER_PX
    high = np.maximum(np.abs(quads - size), np.abs(after - size)).min(axis=2) < BORDER_PX
    on: Array = (low | high).astype(np.float64)
    return on


def _distinct(quads: Array, order: NDArray[np.int64], apart_px: float) -> list[int]:
    """The first few in the order that are not nearly one of those before."""
    kept: list[int] = []
    for number in order[:LOOKED_THROUGH]:
        turned = [np.roll(quads[number], turn, axis=0) for turn in range(4)]
        same = any(np.abs(quads[k] - corners).max() < apart_px for k in kept for corners in turned)
        if not same:
            kept.append(int(number))
        if len(kept) == MOST:
            break
    return kept
