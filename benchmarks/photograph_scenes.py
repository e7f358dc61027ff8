"""Photographs of a cut shape on a sheet, drawn with the true outline known: what the tracing is measured against.

Light is worked in linear values. Where one thing covers another, each pixel gets its exact share of area; textures,
light and shadow are looked up along the ray through the pixel's centre. Then blur, noise, the sRGB curve
(IEC 61966-2-1), and a picture file.
"""

from __future__ import annotations

import math
import struct
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Field = NDArray[np.float32]
Colour = tuple[int, int, int]  # red, green, blue as written in a picture, 0 to 255

A4_MM = (210.0, 297.0)
MEGAPIXELS_3 = (2016, 1512)
MEGAPIXELS_12 = (4032, 3024)
WHITE: Colour = (222, 222, 218)
CREAM: Colour = (222, 211, 180)
KRAFT: Colour = (178, 140, 98)
OAK: Colour = (150, 110, 72)
WALNUT: Colour = (84, 58, 42)
MAT: Colour = (28, 88, 78)
FINE_PX = 6.0  # edges of sheet and outline are bent by the lens: they are cut into pieces about this long
RAYS_EVERY_PX = 8  # what lies under a pixel changes evenly, so rays are worked this far apart and filled in between
LEVELS = 4096  # steps of the table that writes linear light as sRGB
SHADE: tuple[float, float, float] = (0.94, 0.97, 1.06)  # a shadow indoors is a little bluer than the light


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What is photographed, and how. Lengths in mm, angles in degrees, the shape's place from the sheet's middle."""

    outline: Array
    also: tuple[Array, ...] = ()  # other things of the shape's colour, from the sheet's middle
    holes: tuple[Array, ...] = ()  # in the shape, from the sheet's middle
    under_mm: tuple[float, float] | None = None  # a cutting mat under the sheet, on a table of wood
    sheet_mm: tuple[float, float] = A4_MM
    at_mm: tuple[float, float] = (0.0, 0.0)
    turn_deg: float = 0.0
    shape: Colour = (52, 92, 150)
    pattern: float = 0.0  # strength of a printed pattern on the shape, as a share of its light
    sheet: Colour = WHITE
    edge_tint: Colour | None = None  # the sheet's colour at its edges, where it has yellowed
    table: Colour = OAK
    texture: Literal["wood", "mat", "plain"] = "wood"
    pixels: tuple[int, int] = MEGAPIXELS_3
    focal: float = 0.85  # in long sides of the picture: a telephone's main camera
    fill: float = 0.86  # how much of the picture the sheet takes, along whichever way it is tightest
    off_centre: tuple[float, float] = (0.0, 0.0)  # the sheet's middle from the picture's, in long sides
    tilt_deg: tuple[float, float] = (0.0, 0.0)
    roll_deg: float = 90.0
    bow: float = 0.0  # the lens: points at the picture's corner lie this share farther out (+) or nearer (-)
    light: float = 1.0
    uneven: float = 0.0  # share by which the light falls off across the sheet
    shadow: float = 0.0  # share of the light a shadow across the sheet takes away
    shadow_soft_mm: float = 12.0
    cast: float = 0.0  # share of the light the shape's own shadow takes away
    cast_mm: tuple[float, float] = (0.0, 0.0)
    cast_soft_mm: float = 0.6
    glare_mm: float = 0.0  # radius of a reflection on the shape's edge
    blur_px: float = 0.9
    noise: float = 0.012
    quality: int = 85
    orientation: int = 1
    variant: int = 1  # which noise and which grain of the wood


@dataclass(frozen=True, slots=True, kw_only=True)
class Rendered:
    """A picture file, and what is true of it: the outline as it lies in the upright picture, y up, about its middle.

    ``corners_px``: the sheet's corners in the upright picture, from its top left corner.
    """

    data: bytes
    outline: Array
    corners_px: Array


def photographed(scene: Scene) -> Rendered:
    """The photograph of a scene."""
    upright, outline, corners = painted(scene)
    data = encoded(stored_as(upright, scene.orientation), scene.quality)
    if scene.orientation != 1:
        data = data[:2] + orientation_segment(scene.orientation) + data[2:]
    return Rendered(data=data, outline=outline, corners_px=corners)


def painted(scene: Scene) -> tuple[NDArray[np.uint8], Array, Array]:
    """The picture (h, w, 3) in blue, green, red; the true outline; the sheet's corners in the picture."""
    width, height = scene.pixels
    onto, back = camera(scene)
    half = np.array(scene.sheet_mm) / 2.0
    sheet = half * np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    angle = math.radians(scene.turn_deg)
    turn = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
    outline = scene.outline @ turn + np.array(scene.at_mm)
    place = rays(scene, back)
    whole = [outline, *scene.also]
    sheet_part = covered(onto(fine(sheet, onto)), width, height)[..., None]
    shape_part = sum(covered(onto(fine(each, onto)), width, height) for each in whole)[..., None]
    for hole in scene.holes:
        shape_part -= covered(onto(fine(hole, onto)), width, height)[..., None]
    picture = table_light(scene, place)
    if scene.under_mm is not None:
        mat = covered(onto(fine(sheet / half * np.array(scene.under_mm) / 2.0, onto)), width, height)
        lined = table_light(replace(scene, texture="mat", table=MAT), place)
        picture += mat[..., None] * (lined - picture)
    picture += sheet_part * (sheet_light(scene, place, half) - picture)
    if scene.cast:
        soft_px = scene.cast_soft_mm * pixels_per_mm(onto)
        cast = covered(onto(fine(outline + np.array(scene.cast_mm), onto)), width, height)
        cast = cv2.GaussianBlur(cast, (0, 0), soft_px)
        picture *= 1.0 - scene.cast * cast[..., None] * np.array(SHADE, np.float32)[::-1] ** -1.0
    picture += shape_part * (shape_light(scene, place) - picture)
    picture *= lit(scene, place)
    if scene.glare_mm:
        spot = onto(outline[len(outline) // 5][None])[0]
        glare(picture, spot, scene.glare_mm * pixels_per_mm(onto))
    if scene.blur_px:
        picture = np.asarray(cv2.GaussianBlur(picture, (0, 0), scene.blur_px), np.float32)
    roll = math.radians(scene.roll_deg)
    rolled = np.array([[math.cos(roll), math.sin(roll)], [-math.sin(roll), math.cos(roll)]])
    middle = outline.mean(axis=0)
    return developed(picture, scene), (outline - middle) @ rolled, onto(sheet)


def camera(scene: Scene) -> tuple[Callable[[Array], Array], Callable[[Array], Array]]:
    """From mm on the sheet (n, 2) to pixels of the picture (n, 2), and back.

    A pinhole, then Brown's first radial term: r (1 + bow r^2), with r = 1 in the picture's corner.
    """
    width, height = scene.pixels
    focal = scene.focal * max(width, height)
    centre = np.array([width, height]) / 2.0
    reach = math.hypot(width, height) / 2.0
    tip, lean, roll = (math.radians(a) for a in (*scene.tilt_deg, scene.roll_deg))
    about_x = np.array([[1, 0, 0], [0, math.cos(tip), -math.sin(tip)], [0, math.sin(tip), math.cos(tip)]])
    about_y = np.array([[math.cos(lean), 0, math.sin(lean)], [0, 1, 0], [-math.sin(lean), 0, math.cos(lean)]])
    about_z = np.array([[math.cos(roll), -math.sin(roll), 0], [math.sin(roll), math.cos(roll), 0], [0, 0, 1]])
    flip = np.diag([1.0, -1.0, 1.0])  # pictures have y down
    axes = (flip @ about_x @ about_y @ about_z)[:, :2]
    half = np.array(scene.sheet_mm) / 2.0
    sheet = half * np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    room = np.array([width, height]) * scene.fill
    distance = 2.0 * focal * max(scene.sheet_mm) / max(width, height)
    shift = np.zeros(2)
    plane = np.empty((3, 3))
    wanted = np.array(scene.off_centre) * max(width, height)
    for _ in range(12):
        plane = np.column_stack((axes, [*shift, distance]))
        seen = (np.column_stack((sheet, np.ones(4))) @ plane.T)
        flat = focal * seen[:, :2] / seen[:, 2:]
        low, high = flat.min(axis=0), flat.max(axis=0)
        shift += (wanted - 0.5 * (low + high)) * distance / focal
        distance *= float(np.max((high - low) / room))
    project = np.diag([focal, focal, 1.0]) @ plane
    inverse = np.linalg.inv(project)

    def onto(points: Array) -> Array:
        seen = np.column_stack((points, np.ones(len(points)))) @ project.T
        flat = seen[:, :2] / seen[:, 2:]
        square = (flat**2).sum(axis=1, keepdims=True) / reach**2
        bent: Array = flat * (1.0 + scene.bow * square) + centre
        return bent

    radii = np.linspace(0.0, 1.6, 2000)
    bent_radii = radii * (1.0 + scene.bow * radii**2)

    def back(pixels: Array) -> Array:
        away = (pixels - centre) / reach
        radius = np.hypot(away[:, 0], away[:, 1])
        straight = np.interp(radius, bent_radii, radii)
        flat = away * (straight / np.maximum(radius, 1e-12))[:, None] * reach
        seen = np.column_stack((flat, np.ones(len(flat)))) @ inverse.T
        points: Array = seen[:, :2] / seen[:, 2:]
        return points

    return onto, back


def pixels_per_mm(onto: Callable[[Array], Array]) -> float:
    """At the sheet's middle."""
    across = onto(np.array([[-5.0, 0.0], [5.0, 0.0]]))
    return float(np.hypot(*(across[1] - across[0]))) / 10.0


def fine(points: Array, onto: Callable[[Array], Array]) -> Array:
    """A closed outline cut into pieces short enough for the lens's bow."""
    step = FINE_PX / pixels_per_mm(onto)
    after = np.roll(points, -1, axis=0)
    counts = np.maximum(1, np.ceil(np.hypot(*(after - points).T) / step)).astype(int)
    parts = [a + (b - a) * (np.arange(n) / n)[:, None] for a, b, n in zip(points, after, counts, strict=True)]
    return np.concatenate(parts)


def covered(polygon: Array, width: int, height: int) -> Field:
    """Which share of each pixel lies in a closed polygon (n, 2): exact areas, added up along the rows.

    Every edge is cut where it meets a pixel's border; each piece adds its height to all pixels right of it.
    """
    start = np.clip(polygon, -2.0, [width + 2.0, height + 2.0])
    end = np.roll(start, -1, axis=0)
    pieces = [cut_piece for a, b in zip(start, end, strict=True) for cut_piece in cut_at_borders(a, b)]
    line = np.array(pieces)
    rise = line[:, 3] - line[:, 1]
    middle = 0.5 * (line[:, :2] + line[:, 2:])
    row, column = np.floor(middle[:, 1]).astype(int), np.floor(middle[:, 0]).astype(int)
    share = middle[:, 0] - column
    inside = (row >= 0) & (row < height)
    row, column, rise, share = row[inside], np.clip(column[inside], -1, width), rise[inside], share[inside]
    sums = np.zeros((height, width + 3))
    np.add.at(sums, (row, column + 1), rise * (1.0 - share))
    np.add.at(sums, (row, column + 2), rise * share)
    first, last = max(0, int(row.min())), min(height, int(row.max()) + 1)
    part = np.zeros((height, width), np.float32)
    part[first:last] = np.abs(np.cumsum(sums[first:last], axis=1))[:, 1 : width + 1]
    return part


def cut_at_borders(a: Array, b: Array) -> list[tuple[float, float, float, float]]:
    """A straight edge as pieces that each lie in one pixel."""
    cuts = [0.0, 1.0]
    for axis in (0, 1):
        low, high = sorted((float(a[axis]), float(b[axis])))
        borders = np.arange(math.floor(low) + 1, math.ceil(high))
        if len(borders):
            cuts += list((borders - a[axis]) / (b[axis] - a[axis]))
    cuts.sort()
    at = a + (b - a) * np.array(cuts)[:, None]
    return [(*p, *q) for p, q in zip(at[:-1].tolist(), at[1:].tolist(), strict=True)]


def rays(scene: Scene, back: Callable[[Array], Array]) -> Field:
    """Where on the table each pixel looks (h, w, 2), in mm from the sheet's middle."""
    width, height = scene.pixels
    columns, lines = math.ceil(width / RAYS_EVERY_PX), math.ceil(height / RAYS_EVERY_PX)
    x, y = np.meshgrid(np.arange(columns) + 0.5, np.arange(lines) + 0.5)
    pixels = np.column_stack((x.ravel(), y.ravel())) * RAYS_EVERY_PX
    coarse = back(pixels).reshape(lines, columns, 2).astype(np.float32)
    size = (columns * RAYS_EVERY_PX, lines * RAYS_EVERY_PX)
    return np.asarray(cv2.resize(coarse, size, interpolation=cv2.INTER_LINEAR), np.float32)[:height, :width]


def linear(colour: Colour) -> Field:
    """Blue, green, red as light, from a colour as written (sRGB, IEC 61966-2-1)."""
    value = np.array(colour[::-1], np.float64) / 255.0
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4).astype(np.float32)


def table_light(scene: Scene, place: Field) -> Field:
    """The table: wood with rings and fibres along x, a cutting mat with lines each inch, or plain."""
    x, y = place[..., 0], place[..., 1]
    base = linear(scene.table)
    if scene.texture == "plain":
        return np.broadcast_to(base, (*x.shape, 3)).astype(np.float32)
    if scene.texture == "mat":
        line = np.minimum(np.abs((x + 7.0) % 25.4 - 12.7), np.abs((y + 3.0) % 25.4 - 12.7)) < 0.4
        pale = linear((200, 205, 160))
        return np.where(line[..., None], pale, base).astype(np.float32)
    rng = np.random.default_rng(100 + scene.variant)
    wave = np.zeros_like(x)
    for _ in range(5):
        angle, length, phase = rng.uniform(-0.25, 0.25), rng.uniform(5.0, 60.0), rng.uniform(0.0, 6.3)
        bend = 6.0 * np.sin(x / rng.uniform(60.0, 160.0) + phase)
        wave += np.sin((y + bend + angle * x) * (6.283 / length) + phase)
    fibre = cv2.GaussianBlur(rng.standard_normal((512, 512)).astype(np.float32), (0, 0), 6.0, sigmaY=0.8)
    fibre /= fibre.std()
    map_x, map_y = (x * 2.0) % 511.0, (y * 5.0) % 511.0
    fibres = cv2.remap(fibre, map_x, map_y, cv2.INTER_LINEAR)
    grain = np.exp(0.13 * wave + 0.07 * fibres)[..., None]
    return (base * grain).astype(np.float32)


def sheet_light(scene: Scene, place: Field, half: Array) -> Field:
    """The sheet: one colour, or another towards its edges."""
    base = linear(scene.sheet)
    if scene.edge_tint is None:
        return np.broadcast_to(base, (*place.shape[:2], 3)).astype(np.float32)
    inside = np.minimum(half[0] - np.abs(place[..., 0]), half[1] - np.abs(place[..., 1]))
    part = np.exp(-np.maximum(inside, 0.0) / 12.0)[..., None]
    return (base + part * (linear(scene.edge_tint) - base)).astype(np.float32)


def shape_light(scene: Scene, place: Field) -> Field:
    """The shape: one colour, or printed with waves."""
    base = linear(scene.shape)
    if not scene.pattern:
        return base
    x, y = place[..., 0], place[..., 1]
    wave = np.sin(x / 1.7) * np.sin(y / 2.3 + 1.0) + 0.5 * np.sin(x / 5.0 - y / 7.0)
    return (base * (1.0 + scene.pattern * wave[..., None])).astype(np.float32)


def lit(scene: Scene, place: Field) -> Field:
    """The light on each pixel (h, w, 3): uneven across the sheet, and a shadow with a soft edge across it."""
    x, y = place[..., 0], place[..., 1]
    size = float(np.hypot(*scene.sheet_mm))
    light = scene.light * (1.0 - scene.uneven * (0.5 + (0.8 * x + 0.6 * y) / size) ** 2)
    if not scene.shadow:
        return light[..., None].astype(np.float32)
    away = (0.55 * x + 0.84 * y + 20.0) / scene.shadow_soft_mm
    dark = scene.shadow / (1.0 + np.exp(np.clip(4.0 * away, -30.0, 30.0)))
    tint = np.array(SHADE[::-1], np.float32)
    return (light[..., None] * (1.0 - dark[..., None] * (2.0 - tint))).astype(np.float32)


def glare(picture: Field, spot_px: Array, radius_px: float) -> None:
    """Adds a lamp's reflection at a place."""
    height, width = picture.shape[:2]
    x, y = np.meshgrid(np.arange(width) - spot_px[0], np.arange(height) - spot_px[1])
    bright = 3.0 * np.exp(-((x**2 + y**2) / radius_px**2) ** 2)
    picture += bright[..., None].astype(np.float32)


def developed(picture: Field, scene: Scene) -> NDArray[np.uint8]:
    """Light as a picture of 8 bits: noise that grows with the light, then the sRGB curve."""
    rng = np.random.default_rng(scene.variant)
    if scene.noise:
        patch = rng.standard_normal(1_000_003).astype(np.float32)  # a prime length, so that rows do not repeat
        grain = np.resize(patch, picture.shape)
        picture = picture + grain * (scene.noise * np.sqrt(np.maximum(picture, 0.0) + 0.02))
    step = np.arange(LEVELS) / (LEVELS - 1)
    curve = np.where(step <= 0.0031308, 12.92 * step, 1.055 * step ** (1.0 / 2.4) - 0.055)
    table = np.round(255.0 * curve).astype(np.uint8)
    return table[np.clip(picture * (LEVELS - 1) + 0.5, 0, LEVELS - 1).astype(np.uint16)]


def stored_as(upright: NDArray[np.uint8], orientation: int) -> NDArray[np.uint8]:
    """The picture as a camera stores it that then says it must be turned (orientation tags 1 to 8 of EXIF)."""
    turned: dict[int, Callable[[Any], Any]] = {
        1: lambda p: p,
        2: lambda p: p[:, ::-1],
        3: lambda p: p[::-1, ::-1],
        4: lambda p: p[::-1],
        5: lambda p: p.transpose(1, 0, 2),
        6: lambda p: p.transpose(1, 0, 2)[::-1],
        7: lambda p: p.transpose(1, 0, 2)[::-1, ::-1],
        8: lambda p: p.transpose(1, 0, 2)[:, ::-1],
    }
    return np.ascontiguousarray(turned[orientation](upright))


def encoded(picture: NDArray[np.uint8], quality: int) -> bytes:
    """As a JPEG file; quality 0: as a PNG file."""
    kind, choice = (".jpg", [cv2.IMWRITE_JPEG_QUALITY, quality]) if quality else (".png", [])
    made, data = cv2.imencode(kind, picture, choice)
    assert made
    return bytes(data)


def orientation_segment(orientation: int) -> bytes:
    """An APP1 segment of EXIF with the orientation tag alone."""
    entry = struct.pack(">HHIHH", 0x0112, 3, 1, orientation, 0)
    body = b"Exif\x00\x00MM\x00*" + struct.pack(">IH", 8, 1) + entry + struct.pack(">I", 0)
    return b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body
