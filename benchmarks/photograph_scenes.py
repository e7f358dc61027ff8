"""Photographs of a cut shape on a sheet, drawn with the true outline known: what the tracing is measured against.

Light is worked in linear values. Where one thing covers another, each pixel gets its exact share of area; textures,
light and shadow are looked up along the ray through the pixel's centre. Then blur, noise, the sRGB curve
(IEC 61966-2-1), and a picture file.
"""

from __future__ import annotations

import math
import struct
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Field = NDArray[np.float32]
Mapping = Callable[[Array], Array]
Bytes = NDArray[np.uint8]
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
CORNERS = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])  # in halves of the sheet
FINE_PX = 6.0  # edges of sheet and outline are bent by the lens: they are cut into pieces about this long
RAYS_EVERY_PX = 8  # what lies under a pixel changes evenly, so rays are worked this far apart and filled in between
SLICES = 9  # heights at which the side of a thick shape is drawn
LEVELS = 4096  # steps of the table that writes linear light as sRGB
SHADE: tuple[float, float, float] = (0.94, 0.97, 1.06)  # a shadow indoors is a little bluer than the light


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What is photographed, and how. Lengths in mm, angles in degrees, the shape's place from the sheet's middle."""

    outline: Array
    also: tuple[Array, ...] = ()  # other things of the shape's colour, from the sheet's middle
    holes: tuple[Array, ...] = ()  # in the shape, from the sheet's middle
    over: tuple[tuple[Array, Colour], ...] = ()  # over everything else, from the sheet's middle: a ruler, a hand
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
    bow4: float = 0.0  # the same for the next term, which no tracing here knows of
    light: float = 1.0
    uneven: float = 0.0  # share by which the light falls off across the sheet
    shadow: float = 0.0  # share of the light a shadow across the sheet takes away
    shadow_soft_mm: float = 12.0
    cast: float = 0.0  # share of the light the shape's own shadow takes away
    cast_mm: tuple[float, float] = (0.0, 0.0)
    cast_soft_mm: float = 0.6
    glare_mm: float = 0.0  # radius of a reflection on the shape's edge
    thick_mm: float = 0.0  # the shape's top stands so high above the sheet
    blur_px: float = 0.9
    tone: float = 0.0  # how much a telephone deepens shadows and lifts lights, as a share
    sharpen: float = 0.0  # how much it sharpens edges, as a share
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


def painted(scene: Scene) -> tuple[Bytes, Array, Array]:
    """The picture (h, w, 3) in blue, green, red; the true outline; the sheet's corners in the picture."""
    width, height = scene.pixels
    onto, back, lifted = camera(scene)
    half = np.array(scene.sheet_mm) / 2.0
    sheet = half * CORNERS
    outline = turned(scene.outline, scene.turn_deg) + np.array(scene.at_mm)
    place = rays(scene, back)
    table = table_light(scene, larger(place, width // 2, height // 2))
    picture = larger(table, width, height)
    under = sheet_light(scene, place, half)
    plain = scene.edge_tint is None
    under = np.broadcast_to(under[:1, :1], picture.shape) if plain else larger(under, width, height)
    paint(picture, onto(fine(sheet, onto)), under)
    if scene.cast:
        dark = covered(onto(fine(outline + np.array(scene.cast_mm), onto)), width, height)
        dark = blurred(dark, scene.cast_soft_mm * pixels_per_mm(onto))
        picture *= 1.0 - scene.cast * dark[..., None] * (2.0 - np.array(SHADE[::-1], np.float32))
    ink = larger(shape_light(scene, place), width, height)
    heights = np.linspace(0.0, scene.thick_mm, SLICES if scene.thick_mm else 1)
    for each in (outline, *scene.also):
        # The side of a thick shape is seen too: all of its heights together.
        slices = [covered(lifted(fine(each, onto), float(level)), width, height) for level in heights]
        parts = np.max(slices, axis=0)
        for hole in scene.holes:
            parts -= covered(onto(fine(hole, onto)), width, height)
        picture += parts[..., None] * (ink - picture)
    for each, colour in scene.over:
        paint(picture, onto(fine(each, onto)), np.broadcast_to(linear(colour), picture.shape))
    picture *= larger(lit(scene, place), width, height)
    if scene.glare_mm:
        glare(picture, onto(outline[len(outline) // 5][None])[0], scene.glare_mm * pixels_per_mm(onto))
    picture = blurred(picture, scene.blur_px)
    return developed(picture, scene), turned(outline - outline.mean(axis=0), scene.roll_deg), onto(sheet)


def turned(points: Array, angle_deg: float) -> Array:
    """Points (n, 2) turned anticlockwise about the origin."""
    angle = math.radians(angle_deg)
    turn = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
    found: Array = points @ turn
    return found


def paint(picture: Field, polygon: Array, colour: Field) -> None:
    """Covers a polygon in pixels (n, 2) with a colour (h, w, 3)."""
    part = covered(polygon, picture.shape[1], picture.shape[0])[..., None]
    left, top = np.maximum(np.floor(polygon.min(axis=0)).astype(int), 0)
    right, low = np.maximum(np.ceil(polygon.max(axis=0)).astype(int), 0)
    box = (slice(top, low), slice(left, right))
    picture[box] += part[box] * (colour[box] - picture[box])


def blurred(field: Field, spread_px: float) -> Field:
    """A field (h, w) or (h, w, 3), blurred by a bell of that spread."""
    return np.asarray(cv2.GaussianBlur(field, (0, 0), spread_px), np.float32) if spread_px else field


def larger(field: Field, width: int, height: int) -> Field:
    """A field (h, w, k) filled in to another size, the middles of its cells staying where they are."""
    if field.shape[:2] == (height, width):
        return field
    return np.asarray(cv2.resize(field, (width, height), interpolation=cv2.INTER_LINEAR), np.float32)


def camera(scene: Scene) -> tuple[Mapping, Mapping, Callable[[Array, float], Array]]:
    """From mm on the sheet (n, 2) to pixels of the picture (n, 2), and back, and from mm at a height above the sheet.

    A pinhole, then Brown's radial terms: r (1 + bow r^2 + bow4 r^4), with r = 1 in the picture's corner.
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
    sheet = half * CORNERS
    room = np.array([width, height]) * scene.fill
    distance = 2.0 * focal * max(scene.sheet_mm) / max(width, height)
    shift = np.zeros(2)
    plane = np.empty((3, 3))
    wanted = np.array(scene.off_centre) * max(width, height)
    for _ in range(12):
        plane = np.column_stack((axes, [*shift, distance]))
        seen = np.column_stack((sheet, np.ones(4))) @ plane.T
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
        bent: Array = flat * (1.0 + scene.bow * square + scene.bow4 * square**2) + centre
        return bent

    radii = np.linspace(0.0, 1.6, 2000)
    bent_radii = radii * (1.0 + scene.bow * radii**2 + scene.bow4 * radii**4)

    # A point above the sheet hides the one where its ray meets the sheet.
    eye = -axes.T @ np.array([*shift, distance])
    up = np.cross(axes[:, 0], axes[:, 1])
    height_mm = -float(up @ np.array([*shift, distance]))

    def lifted(points: Array, level: float) -> Array:
        return onto(eye + (points - eye) * height_mm / (height_mm - level))

    def back(pixels: Array) -> Array:
        away = (pixels - centre) / reach
        radius = np.hypot(away[:, 0], away[:, 1])
        straight = np.interp(radius, bent_radii, radii)
        flat = away * (straight / np.maximum(radius, 1e-12))[:, None] * reach
        seen = np.column_stack((flat, np.ones(len(flat)))) @ inverse.T
        points: Array = seen[:, :2] / seen[:, 2:]
        return points

    return onto, back, lifted


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
    top, left = int(row.min()), int(column.min())
    sums = np.zeros((int(row.max()) + 1 - top, int(column.max()) + 2 - left))
    np.add.at(sums, (row - top, column - left), rise * (1.0 - share))
    np.add.at(sums, (row - top, column - left + 1), rise * share)
    inner = np.abs(np.cumsum(sums, axis=1))[:, max(0, -left) : width - left]
    part = np.zeros((height, width), np.float32)
    part[top : top + len(inner), max(0, left) : max(0, left) + inner.shape[1]] = inner
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


def rays(scene: Scene, back: Mapping) -> Field:
    """Where on the table every eighth pixel each way looks (h / 8, w / 8, 2), in mm from the sheet's middle."""
    width, height = scene.pixels
    columns, lines = width // RAYS_EVERY_PX, height // RAYS_EVERY_PX
    x, y = np.meshgrid((np.arange(columns) + 0.5) * width / columns, (np.arange(lines) + 0.5) * height / lines)
    return back(np.column_stack((x.ravel(), y.ravel()))).reshape(lines, columns, 2).astype(np.float32)


def linear(colour: Colour) -> Field:
    """Blue, green, red as light, from a colour as written (sRGB, IEC 61966-2-1)."""
    value = np.array(colour[::-1], np.float64) / 255.0
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4).astype(np.float32)


def table_light(scene: Scene, place: Field) -> Field:
    """The table: wood with rings and fibres along x, a cutting mat with lines each inch, or plain."""
    x, y = place[..., 0], place[..., 1]
    if scene.texture == "mat":
        return mat_light(scene.table, x, y)
    base = np.broadcast_to(linear(scene.table), (*x.shape, 3))
    if scene.texture == "plain":
        return np.array(base, np.float32)
    rng = np.random.default_rng(100 + scene.variant)
    wave = np.zeros_like(x)
    for _ in range(4):
        lean, length, phase = rng.uniform(-0.25, 0.25), rng.uniform(5.0, 60.0), rng.uniform(0.0, 6.3)
        bend = 6.0 * np.sin(x / rng.uniform(60.0, 160.0) + phase)
        wave += np.sin((y + bend + lean * x) * (6.283 / length) + phase)
    fibre = cv2.GaussianBlur(rng.standard_normal((512, 512)).astype(np.float32), (0, 0), 6.0, sigmaY=0.8)
    strength = float(0.07 / np.std(fibre))
    fibres = np.asarray(cv2.remap(fibre, (x * 2.0) % 511.0, (y * 5.0) % 511.0, cv2.INTER_LINEAR), np.float32)
    wood: Field = base * np.exp(0.13 * wave + strength * fibres)[..., None]
    if scene.under_mm is not None:
        on_mat = (np.abs(x) < scene.under_mm[0] / 2.0) & (np.abs(y) < scene.under_mm[1] / 2.0)
        wood = np.where(on_mat[..., None], mat_light(MAT, x, y), wood)
    return wood


def mat_light(colour: Colour, x: Field, y: Field) -> Field:
    """A cutting mat with a pale line each inch."""
    line = np.minimum(np.abs((x + 7.0) % 25.4 - 12.7), np.abs((y + 3.0) % 25.4 - 12.7)) < 0.4
    return np.where(line[..., None], linear((200, 205, 160)), linear(colour)).astype(np.float32)


def sheet_light(scene: Scene, place: Field, half: Array) -> Field:
    """The sheet: one colour, or another towards its edges."""
    base = linear(scene.sheet)
    if scene.edge_tint is None:
        return np.broadcast_to(base, (*place.shape[:2], 3)).astype(np.float32)
    inside = np.minimum(half[0] - np.abs(place[..., 0]), half[1] - np.abs(place[..., 1]))
    part = np.exp(-np.maximum(inside, 0.0) / 12.0)[..., None]
    tinted: Field = (base + part * (linear(scene.edge_tint) - base)).astype(np.float32)
    return tinted


def shape_light(scene: Scene, place: Field) -> Field:
    """The shape: one colour, or printed with waves."""
    x, y = place[..., 0], place[..., 1]
    wave = np.sin(x / 1.7) * np.sin(y / 2.3 + 1.0) + 0.5 * np.sin(x / 5.0 - y / 7.0)
    inked: Field = (linear(scene.shape) * (1.0 + scene.pattern * wave[..., None])).astype(np.float32)
    return inked


def lit(scene: Scene, place: Field) -> Field:
    """The light on each pixel (h, w, 3): uneven across the sheet, and a shadow with a soft edge across it."""
    x, y = place[..., 0], place[..., 1]
    size = float(np.hypot(*scene.sheet_mm))
    light = scene.light * (1.0 - scene.uneven * (0.5 + (0.8 * x + 0.6 * y) / size) ** 2)
    away = (0.55 * x + 0.84 * y + 20.0) / scene.shadow_soft_mm
    dark = scene.shadow / (1.0 + np.exp(np.clip(4.0 * away, -30.0, 30.0)))
    tint = np.array(SHADE[::-1], np.float32)
    return (light[..., None] * (1.0 - dark[..., None] * (2.0 - tint))).astype(np.float32)


def glare(picture: Field, spot_px: Array, radius_px: float) -> None:
    """Adds a lamp's reflection at a place."""
    height, width = picture.shape[:2]
    x, y = np.meshgrid(np.arange(width) - spot_px[0], np.arange(height) - spot_px[1])
    bright = 3.0 * np.exp(-(((x**2 + y**2) / radius_px**2) ** 2))
    picture += bright[..., None].astype(np.float32)


def developed(picture: Field, scene: Scene) -> Bytes:
    """Light as a picture of 8 bits: noise that grows with the light, sharpening, then the sRGB curve."""
    if scene.noise:
        rng = np.random.default_rng(scene.variant)
        patch = rng.standard_normal(300_007).astype(np.float32)  # a prime length, so that rows do not repeat
        bright = np.sqrt(np.maximum(picture, 0.0) + np.float32(0.02))
        picture = picture + np.resize(patch, picture.shape) * bright * np.float32(scene.noise)
    if scene.sharpen:
        picture = picture + scene.sharpen * (picture - blurred(picture, 1.5))
    step = np.arange(LEVELS) / (LEVELS - 1)
    curve = np.where(step <= 0.0031308, 12.92 * step, 1.055 * step ** (1.0 / 2.4) - 0.055)
    curve = curve + scene.tone * (curve**2 * (3.0 - 2.0 * curve) - curve)
    table = np.round(255.0 * curve).astype(np.uint8)
    found: Bytes = np.take(table, np.clip(picture * (LEVELS - 1) + 0.5, 0, LEVELS - 1).astype(np.uint16))
    return found


def stored_as(upright: Bytes, orientation: int) -> Bytes:
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


def encoded(picture: Bytes, quality: int) -> bytes:
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
