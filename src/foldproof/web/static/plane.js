// Lids in the plane, at the pace of a finger: what is uncovered, how far a lid covers, how near a hole is to an edge.

export function turned(points, [px, py], degrees) {
  const angle = (degrees * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return points.map(([x, y]) => [px + c * (x - px) - s * (y - py), py + s * (x - px) + c * (y - py)]);
}

export const moved = (points, [dx, dy]) => (dx || dy ? points.map(([x, y]) => [x + dx, y + dy]) : points);

export function area(ring) {
  let sum = 0;
  for (let at = 0; at < ring.length; at += 1) {
    const [ax, ay] = ring[at];
    const [bx, by] = ring[(at + 1) % ring.length];
    sum += ax * by - bx * ay;
  }
  return sum / 2;
}

export const anticlockwise = (ring) => (area(ring) < 0 ? [...ring].reverse() : ring);

/** The area a ring shares with a convex one: cut along each of its sides in turn. Folded-back edges add nothing. */
export function shared(ring, convex) {
  let left = anticlockwise(ring);
  const sides = anticlockwise(convex);
  for (let at = 0; at < sides.length && left.length; at += 1) {
    const [ax, ay] = sides[at];
    const [bx, by] = sides[(at + 1) % sides.length];
    const height = ([x, y]) => (bx - ax) * (y - ay) - (by - ay) * (x - ax);
    const kept = [];
    for (let n = 0; n < left.length; n += 1) {
      const [one, other] = [left[n], left[(n + 1) % left.length]];
      const [h, k] = [height(one), height(other)];
      if (h >= 0) kept.push(one);
      if (h >= 0 !== k >= 0) kept.push([one[0] + (h / (h - k)) * (other[0] - one[0]), one[1] + (h / (h - k)) * (other[1] - one[1])]);
    }
    left = kept;
  }
  return Math.abs(area(left));
}

/** The share of the opening that the lid leaves free, turned about the hole. */
export function uncovered(lid, opening, hole, degrees) {
  return 1 - shared(turned(lid, hole, degrees), opening) / Math.abs(area(opening));
}

/** How far all sides of a convex rim may move out, corners mitred, and still be covered; the exact least over every edge.
 *
 * Less than nothing when it does not cover; null when not even the middle of the rim is under the lid.
 */
export function margin(lid, rim) {
  const sides = anticlockwise(rim);
  const normals = sides.map(([ax, ay], at) => {
    const [bx, by] = sides[(at + 1) % sides.length];
    const length = Math.hypot(bx - ax, by - ay);
    const normal = [(by - ay) / length, -(bx - ax) / length];
    return [...normal, normal[0] * ax + normal[1] * ay];
  });
  const levels = ([x, y]) => normals.map(([a, b, h]) => a * x + b * y - h);
  let least = Infinity;
  for (let at = 0; at < lid.length; at += 1) {
    const [f, g] = [levels(lid[at]), levels(lid[(at + 1) % lid.length])];
    least = Math.min(least, Math.max(...f));
    for (let i = 0; i < f.length; i += 1) {
      for (let j = i + 1; j < f.length; j += 1) {
        const [d, e] = [f[i] - f[j], g[i] - g[j]];
        if (d * e >= 0) continue;
        const share = d / (d - e);
        least = Math.min(least, Math.max(...f.map((value, n) => value + share * (g[n] - value))));
      }
    }
  }
  return within(centre(sides), lid) ? least : null;
}

export function centre(ring) {
  return [0, 1].map((axis) => ring.reduce((sum, point) => sum + point[axis], 0) / ring.length);
}

export function within([x, y], ring) {
  let found = false;
  for (let at = 0, last = ring.length - 1; at < ring.length; last = at, at += 1) {
    const [ax, ay] = ring[at];
    const [bx, by] = ring[last];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) found = !found;
  }
  return found;
}
